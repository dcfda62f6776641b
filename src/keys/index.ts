export { type Key, type KeyRules, type KeysInput, type KeysOutput, keysInput, keysOutput } from './io';
export { placeKeys } from './place-keys';
