export { cautionsFor, type Work } from './cautions';
export { CLAMP_PRESSURE, clampForce, clampSpacing, clamps, fillLitres, MOST_MOISTURE_APART } from './gluing';
export { SPECIES_SOURCE, woodIo } from './io';
export { type Coupling, type Lift, LOAD_CONSTANT, recommendedLift } from './lifting';
export { boardFeet, QUARTERS, surfaceMeasure, tally } from './measure';
export { emcCelsius, INDOOR_MOISTURE } from './moisture';
export {
  type Cut,
  coefficientFromShrinkage,
  FIBRE_SATURATION,
  type Movement,
  mitreOpening,
  movement,
  slotLength,
} from './movement';
export { KERFS, mostRpm, rimSpeed } from './saws';
export { type Cell, findSpecies, SPECIES, type Species } from './species';
export { type Strength, strength } from './strength';
export { density, densityFromBasicGravity, densityFromGravity, weight } from './weight';
