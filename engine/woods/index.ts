/** Woods, and the metal, carbon, bone and glue that go with them: stiffness, density, moisture, loss. */
export { catalogueWood, nearestSpecies, species } from "./catalogue.ts";
export { catalogueMaterial, materials, nearestMaterial } from "./materials.ts";
export {
  atMoisture,
  densityAtMoisture,
  equilibriumMoisture,
  shrinkage,
  strengthAtMoisture,
} from "./moisture.ts";
export { normalCompliance, reciprocalPoisson, woodFaults } from "./orthotropy.ts";
export type { OrthotropicWood, Provenance, SourcedValue, SpeciesRecord } from "./wood.ts";
