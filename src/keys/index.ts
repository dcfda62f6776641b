export { type BlankPlan, type BlankWanted, nestBlanks } from './blanks';
export { checkKeys } from './check-keys';
export { type CrackFill, crackFill } from './fill';
export { type Clearance, type HandKey, type Judged, KeyRoom, kept, keysByHand, takenInHand } from './hand';
export { type InlayPair, inlayPair, type Taper, taperOf } from './inlay';
export { type Key, type KeysInput, type KeysOutput, keysInput, keysOutput } from './io';
export { type KeyMarks, marksOf } from './marks';
export { placeKeys } from './place-keys';
export { type Template, templateOf } from './template';
