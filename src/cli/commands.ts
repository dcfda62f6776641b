import type { Command, CommandGroup } from './command';

/** Every command, read only when it is asked for: most need a part of the house, and OpenCV takes a second to start. */
export const COMMANDS: Readonly<Record<string, () => Promise<Command | CommandGroup>>> = {
  flatten: async () => (await import('./commands/flatten')).flatten,
  leaves: async () => (await import('./commands/leaves')).leaves,
  keys: async () => (await import('./commands/keys')).keys,
  wood: async () => (await import('./commands/wood')).wood,
  schema: async () => (await import('./commands/schema')).schema,
};
