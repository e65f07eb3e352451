/** Woods, and the metal, carbon, bone and glue that go with them: stiffness, density, moisture, loss. */
export { catalogueWood, nearestSpecies, species } from "./catalogue.ts";
export { type CreepRange, creepRange } from "./creep.ts";
export {
  durationFactor,
  kdef,
  kmod,
  type LoadClass,
  type ServiceClass,
  year,
} from "./duration.ts";
export { glueStrength } from "./glue.ts";
export { catalogueMaterial, materials, nearestMaterial } from "./materials.ts";
export {
  atMoisture,
  densityAtMoisture,
  equilibriumMoisture,
  shrinkage,
  strengthAtMoisture,
} from "./moisture.ts";
export { normalCompliance, reciprocalPoisson, woodFaults } from "./orthotropy.ts";
export {
  moistureFactor,
  type StrengthFactor,
  type StrengthKind,
  strengthOf,
  temperatureFactor,
} from "./strength.ts";
export type { OrthotropicWood, Provenance, SourcedValue, SpeciesRecord } from "./wood.ts";
