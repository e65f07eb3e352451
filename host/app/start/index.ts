/** First use: ways to begin, a short tour, and the large mode for full hands. */
export { HandsFull } from "./HandsFull.tsx";
export { Tour } from "./Tour.tsx";
export { startTour } from "./tourSteps.ts";
export { WaysToBegin } from "./WaysToBegin.tsx";
