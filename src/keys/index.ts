export { type Key, type KeysOutput, keysInput, keysOutput } from './io';
export { placeKeys } from './place-keys';
