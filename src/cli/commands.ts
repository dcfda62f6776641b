import type { Commands } from './command';

/** The table of commands. */
export const COMMANDS: Commands = {
  trace: async () => (await import('./commands/trace')).trace,
  flatten: async () => (await import('./commands/flatten')).flatten,
  keys: async () => (await import('./commands/keys')).keys,
  leaves: async () => (await import('./commands/leaves')).leaves,
  seam: async () => (await import('./commands/seam')).seam,
  wood: async () => (await import('./commands/wood')).wood,
  plan: async () => (await import('./commands/plan')).plan,
  schema: async () => (await import('./commands/schema')).schemaOf(COMMANDS),
};
