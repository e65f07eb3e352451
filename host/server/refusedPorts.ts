/** Ports above 1023 that browsers refuse to open (WHATWG Fetch, "bad port"; from memory). */
const refused = new Set([
  1719, 1720, 1723, 2049, 3659, 4045, 4190, 5060, 5061, 6000, 6566, 6665, 6666, 6667, 6668, 6669, 6679, 6697,
  10080,
]);

export const browsersRefuse = (port: number): boolean => port < 1024 || refused.has(port);
