import { difference, intersection, offset, type Polygon, type Region, ringArea, union } from '../geometry';
import { ribbons } from './hints';
import type { TraceOptions } from './trace-types';

/** A stroke binds the edge to so much of it on either side of its line, mm: less than it is drawn, so that its ends leave no bumps. */
const BINDING = 2;
/** What lies between a stroke and the edge is taken along where it is narrower than twice this, mm. */
const GAP = 25;

/**
 * An outline with strokes for wood within it and strokes for what is no wood outside, whatever the colours say: a hand drew them.
 * A stroke that lies farther from the edge than 50 mm is left to the colours: nobody knows what is between.
 */
export function obeying(outer: Polygon<'face'>, options: Pick<TraceOptions, 'strokes'>): Polygon<'face'> {
  if (!options.strokes?.length || outer.length < 3) return outer;
  const wood = ribbons(options, 'wood', BINDING);
  const rest = ribbons(options, 'not wood', BINDING);
  const more = wood.length > 0 ? joined([{ outer, holes: [] }], wood) : [{ outer, holes: [] }];
  const less = rest.length > 0 ? parted(more, rest) : more;
  return less.sort((a, b) => ringArea(b.outer) - ringArea(a.outer))[0]?.outer ?? [];
}

type Regions = readonly Region<'face'>[];

/** All of both, and what lies between them near what the second adds. */
function joined(all: Regions, wanted: Regions): Region<'face'>[] {
  const added = difference(wanted, all);
  if (added.length === 0) return [...all];
  const whole = union([...all, ...added]);
  const closed = offset(offset(whole, GAP), -GAP);
  return union([...whole, ...intersection(closed, offset(added, GAP))]);
}

/** The first without the second, and without what is left between the second and the outside. */
function parted(all: Regions, unwanted: Regions): Region<'face'>[] {
  const taken = intersection(unwanted, all);
  if (taken.length === 0) return [...all];
  const left = difference(all, taken);
  const opened = offset(offset(left, -GAP), GAP);
  return difference(left, difference(offset(taken, GAP), opened));
}
