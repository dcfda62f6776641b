import { late } from '../stages/late';

/** Codes are drawn and read by scripts that come when they are first wanted. */

export const ShowSheet = late(async () => (await import('./show-sheet')).ShowSheet);
export const ReadSheet = late(async () => (await import('./read-sheet')).ReadSheet);
