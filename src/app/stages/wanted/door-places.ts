import type { Point } from '../../../geometry';
import type { Door } from '../../../job';
import { type Front, frontsOf } from '../../../leaves';

/** Where fronts stand in the elevation. Pure; mm, x right, y down. */

type At = Point<'elevation'>;

/** The usual gap between fronts, mm (practice). */
export const USUAL_GAP = 3;

/** Copies of a door in rows, so many abreast, a gap between neighbours. */
export function inRows(
  { width, height, count }: Pick<Door, 'width' | 'height' | 'count'>,
  [x, y]: At,
  abreast: number,
  gap: number,
): At[] {
  return Array.from({ length: count }, (_, i): At => {
    const [row, column] = [Math.floor(i / abreast), i % abreast];
    return [x + column * (width + gap), y + row * (height + gap)];
  });
}

interface Box {
  minX: number;
  minY: number;
  maxX: number;
  maxY: number;
}

/** The box around fronts; null around none. */
export function boxOf(fronts: readonly Front[]): Box | null {
  if (fronts.length === 0) return null;
  return {
    minX: Math.min(...fronts.map(({ at }) => at[0])),
    minY: Math.min(...fronts.map(({ at }) => at[1])),
    maxX: Math.max(...fronts.map(({ at, door }) => at[0] + door.width)),
    maxY: Math.max(...fronts.map(({ at, door }) => at[1] + door.height)),
  };
}

/** How many of a door stand abreast now. */
export function abreastOf(doors: readonly Door[], id: string): number {
  const own = frontsOf(doors).filter(({ door }) => door.id === id);
  const first = Math.min(...own.map(({ at }) => at[1]));
  return Math.max(1, own.filter(({ at, door }) => at[1] < first + door.height / 2).length);
}

/** Where fronts can be put against those of another door. */
export const SIDES = ['right of', 'left of', 'below', 'above'] as const;
export type Side = (typeof SIDES)[number];

/** Upper left corner for the fronts of `own` beside all those of another door. */
export function beside(doors: readonly Door[], own: string, other: string, side: Side, gap: number): At | null {
  const fronts = frontsOf(doors);
  const [box, there] = [own, other].map((id) => boxOf(fronts.filter(({ door }) => door.id === id)));
  if (!box || !there) return null;
  const [width, height] = [box.maxX - box.minX, box.maxY - box.minY];
  switch (side) {
    case 'right of':
      return [there.maxX + gap, there.minY];
    case 'left of':
      return [there.minX - gap - width, there.minY];
    case 'below':
      return [there.minX, there.maxY + gap];
    case 'above':
      return [there.minX, there.minY - gap - height];
  }
}

/** Where every copy of a door stands, typed or not. */
export const placesOf = (doors: readonly Door[], id: string): At[] =>
  frontsOf(doors)
    .filter(({ door }) => door.id === id)
    .sort((a, b) => a.copy - b.copy)
    .map(({ at }) => at);

/** A place drawn to the gap beside another front's edges, or to stand level with them, where it is within `reach` of that. */
export function snapped(fronts: readonly Front[], moved: Front, [x, y]: At, gap: number, reach: number): At {
  const { width, height } = moved.door;
  const others = fronts.filter(({ id }) => id !== moved.id);
  const xs = others.flatMap(({ at, door }) => [
    at[0],
    at[0] + door.width + gap,
    at[0] - gap - width,
    at[0] + door.width - width,
  ]);
  const ys = others.flatMap(({ at, door }) => [
    at[1],
    at[1] + door.height + gap,
    at[1] - gap - height,
    at[1] + door.height - height,
  ]);
  const near = (value: number, stops: readonly number[]): number => {
    const best = stops.reduce<number | null>(
      (found, stop) => (Math.abs(stop - value) < Math.abs((found ?? Infinity) - value) ? stop : found),
      null,
    );
    return best !== null && Math.abs(best - value) <= reach ? best : Math.round(value);
  };
  return [near(x, xs), near(y, ys)];
}

/** Fronts that stand over each other, by id. */
export function overlapping(fronts: readonly Front[]): ReadonlySet<string> {
  const out = new Set<string>();
  fronts.forEach((a, i) => {
    for (const b of fronts.slice(i + 1)) {
      const across = Math.min(a.at[0] + a.door.width, b.at[0] + b.door.width) - Math.max(a.at[0], b.at[0]);
      const down = Math.min(a.at[1] + a.door.height, b.at[1] + b.door.height) - Math.max(a.at[1], b.at[1]);
      if (across > 0.01 && down > 0.01) out.add(a.id).add(b.id);
    }
  });
  return out;
}
