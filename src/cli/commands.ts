import type { Command, CommandGroup } from './command';

/** Every command, read only when it is asked for: most need a part of the house, and OpenCV takes a second to start. */
export const COMMANDS: Readonly<Record<string, () => Promise<Command | CommandGroup>>> = {
  trace: async () => (await import('./commands/trace')).trace,
  flatten: async () => (await import('./commands/flatten')).flatten,
  keys: async () => (await import('./commands/keys')).keys,
  leaves: async () => (await import('./commands/leaves')).leaves,
  wood: async () => (await import('./commands/wood')).wood,
  plan: async () => (await import('./commands/plan')).plan,
  schema: async () => (await import('./commands/schema')).schema,
};
