export { type Clearance, type HandKey, type Judged, KeyRoom, kept, keysByHand, takenInHand } from './hand';
export { type Key, type KeysInput, type KeysOutput, keysInput, keysOutput } from './io';
export { placeKeys } from './place-keys';
