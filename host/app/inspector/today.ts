/** The day as a document writes it, where the maker is: "2027-03-14". */
export function today(now = new Date()): string {
  const two = (n: number): string => String(n).padStart(2, "0");
  return `${now.getFullYear()}-${two(now.getMonth() + 1)}-${two(now.getDate())}`;
}
