import type { Sled, Thicknesser } from '../job';

/** Machines that a shop may have for the second face. */
export interface Machines {
  readonly planer?: Thicknesser | null | undefined;
  readonly drumSander?: Thicknesser | null | undefined;
}

export interface Fitting {
  readonly tool: 'planer' | 'drum sander';
  readonly machine: Thicknesser;
}

/**
 * The machine that may make the second face once the first lies flat on its table: the one that is done sooner, of those that
 * the blank fits. None makes the first face: it would only copy the warp.
 * @param size length, width and thickness of the blank as it goes in, mm
 * @param removal to be taken off, mm
 */
export function machineFor(
  [length, width, thickness]: readonly [number, number, number],
  removal: number,
  { planer, drumSander }: Machines,
): Fitting | null {
  const have: Fitting[] = [
    ...(planer ? [{ tool: 'planer' as const, machine: planer }] : []),
    ...(drumSander ? [{ tool: 'drum sander' as const, machine: drumSander }] : []),
  ];
  const time = ({ machine }: Fitting): number => Math.ceil(removal / machine.depth) / machine.feed;
  return have
    .filter(({ machine }) => width <= machine.width && thickness <= machine.thickness && length >= machine.shortest)
    .reduce<Fitting | null>((best, each) => (best && time(best) <= time(each) ? best : each), null);
}

/** By how much a board lies below what the sled's bit reaches down to over the bench, mm; 0 where it is reached. */
export function belowReach(flat: number, { lowest }: Sled): number {
  return Math.max(0, lowest - flat);
}
