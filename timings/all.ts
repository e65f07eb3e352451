/** Every timing, one after the other: npm run timings. */
import { timeEigen } from "./eigen.ts";

const say = (line: string): void => {
  process.stdout.write(`${line}\n`);
};
timeEigen(say);
