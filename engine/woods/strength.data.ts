/**
 * Strength of clear straight-grained wood, kPa as the table prints it: small green and 12 % specimens, a few minutes to
 * failure, near 20 degrees Celsius. All from memory of WH-T53 (imported woods: table 5-5a), true to a few per cent of a row
 * at best; the modulus of rupture at 12 % of the catalogue is the one that was read. A null is a cell left empty.
 * Columns: modulus of rupture, compression along, compression across (proportional limit), shear along, tension across
 * (mean of radial and tangential).
 */
export type StrengthRow = readonly [
  rupture: number | null,
  compressionAlong: number | null,
  compressionAcross: number | null,
  shearAlong: number | null,
  tensionAcross: number | null,
];

/** Woods that the handbook has not: middle figures of other tables, from memory, wider. */
export const otherTables: readonly string[] = ["Ebony, African", "Spruce, European"];

/** By species of the catalogue: green, then at 12 %. */
export const strengthRows: Readonly<Record<string, readonly [green: StrengthRow, dry: StrengthRow]>> = {
  "Alder, red": [
    [45000, 20400, 1700, 5300, 2700],
    [68000, 40100, 3000, 7400, 2900],
  ],
  "Ash, white": [
    [66000, 27500, 4600, 9300, 4100],
    [103000, 51100, 8000, 13200, 6500],
  ],
  "Aspen, quaking": [
    [35000, 14800, 1200, 4600, 1600],
    [58000, 29300, 2600, 5900, 1800],
  ],
  Baldcypress: [
    [46000, 24700, 2800, 5600, 2100],
    [73000, 43900, 5000, 6900, 1900],
  ],
  Balsa: [
    [null, null, null, null, null],
    [21600, 14900, null, 2100, null],
  ],
  Basswood: [
    [34000, 15300, 1200, 4100, 1900],
    [60000, 32600, 2600, 6800, 2400],
  ],
  "Beech, American": [
    [59000, 24500, 3700, 8900, 5000],
    [103000, 50300, 7000, 13900, 7000],
  ],
  "Birch, yellow": [
    [57000, 23300, 3000, 7700, 3000],
    [114000, 56300, 6700, 13000, 6300],
  ],
  "Cedar, Port-Orford": [
    [45000, 21600, 2100, 5800, 1200],
    [88000, 43100, 5000, 9400, 2800],
  ],
  "Cedar, incense": [
    [43000, 21700, 2600, 5700, 1900],
    [55000, 35900, 4100, 6100, 1900],
  ],
  "Cedar, northern white": [
    [29000, 13700, 1600, 4300, 1700],
    [45000, 27300, 2100, 5900, 1700],
  ],
  "Cedar, western red": [
    [35900, 19100, 1700, 5300, 1600],
    [51700, 31400, 3200, 6800, 1500],
  ],
  "Cedar, yellow": [
    [44000, 21000, 2400, 5800, 2300],
    [77000, 43500, 4300, 7800, 2500],
  ],
  "Cherry, black": [
    [55000, 24400, 2500, 7800, 3900],
    [85000, 49000, 4800, 11700, 3900],
  ],
  "Cottonwood, eastern": [
    [37000, 15700, 1400, 4700, 2800],
    [59000, 33900, 2600, 6400, 4000],
  ],
  "Douglas-fir": [
    [53000, 26100, 2600, 6200, 2100],
    [85000, 49900, 5500, 7800, 2300],
  ],
  "Ebony, African": [
    [null, null, null, null, null],
    [158000, 76000, null, 13000, null],
  ],
  "Fir, subalpine": [
    [34000, 15900, 1300, 4800, null],
    [59000, 33500, 2700, 7400, null],
  ],
  "Hemlock, western": [
    [46000, 23200, 1900, 5900, 2000],
    [78000, 49000, 3800, 8600, 2300],
  ],
  "Larch, western": [
    [53000, 25900, 2800, 6000, 2300],
    [90000, 52500, 6400, 9400, 3000],
  ],
  "Mahogany, African": [
    [51000, 25700, null, 6400, null],
    [73800, 44500, null, 10300, null],
  ],
  "Mahogany, Honduras": [
    [62000, 29900, null, 8500, null],
    [79300, 46700, null, 8500, null],
  ],
  "Maple, bigleaf": [
    [51000, 22300, 3100, 7700, 4100],
    [74000, 41000, 5200, 11900, 3700],
  ],
  "Maple, red": [
    [53000, 22600, 2800, 7900, null],
    [92000, 45100, 6900, 12800, null],
  ],
  "Maple, silver": [
    [40000, 17200, 2600, 7200, 3900],
    [61000, 36000, 5100, 10200, 3400],
  ],
  "Maple, sugar": [
    [65000, 27700, 4400, 10100, null],
    [109000, 54000, 10100, 16100, null],
  ],
  "Oak, red": [
    [57000, 23700, 4200, 8300, 5200],
    [99000, 46600, 7000, 12300, 5500],
  ],
  "Oak, white": [
    [57000, 24500, 4600, 8600, 5300],
    [105000, 51300, 7400, 13800, 5500],
  ],
  "Redwood, old-growth": [
    [52000, 29000, 2900, 5500, 1800],
    [69000, 42400, 4800, 6500, 1700],
  ],
  "Redwood, young-growth": [
    [41000, 21400, 1900, 6100, 2100],
    [54000, 36000, 3600, 7600, 1700],
  ],
  "Rosewood, Brazilian": [
    [97200, 38000, null, 16300, null],
    [131000, 66200, null, 14500, null],
  ],
  "Rosewood, Indian": [
    [63400, 31200, null, 9700, null],
    [116500, 63600, null, 14400, null],
  ],
  "Spruce, Engelmann": [
    [32000, 15000, 1400, 4400, 1700],
    [64000, 30900, 2800, 8300, 2400],
  ],
  "Spruce, European": [
    [null, null, null, null, null],
    [71000, 41000, null, 6700, 2500],
  ],
  "Spruce, Sitka": [
    [39000, 16200, 1400, 5200, 1700],
    [70000, 35700, 3000, 6700, 2600],
  ],
  "Spruce, black": [
    [42000, 19600, 1700, 5100, null],
    [74000, 41100, 3800, 8500, null],
  ],
  "Spruce, red": [
    [41000, 18800, 1800, 5200, 1500],
    [74000, 38200, 3800, 8900, 2400],
  ],
  "Spruce, white": [
    [34000, 16200, 1400, 4400, 1500],
    [65000, 35700, 3200, 6700, 2500],
  ],
  Sweetgum: [
    [49000, 21000, 2600, 6800, 3700],
    [86000, 43600, 4300, 11000, 5200],
  ],
  "Sycamore, American": [
    [45000, 20100, 2500, 6900, 4300],
    [69000, 37100, 4800, 10100, 5000],
  ],
  "Walnut, black": [
    [66000, 29600, 3400, 8400, 3900],
    [101000, 52300, 7000, 9400, 4800],
  ],
  "Yellow-poplar": [
    [41000, 18300, 1900, 5400, 3500],
    [70000, 38200, 3400, 8200, 3700],
  ],
};
