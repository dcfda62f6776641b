import { bounds } from '../geometry';
import type { Top } from '../job';
import { type StripPlace, type StripWish, stripPlaces } from './columns';
import type { FaceStock } from './stock';
import { clipped } from './window';

/** A strip laid at an angle moves what lies in it by so much along itself, mm. */
const SLACK = 20;
/** So many ways to hide a defect are looked at on one face. */
const WAYS = 8;

/**
 * Places of a face at which what must be kept off comes to lie under a part of the top that is hidden or cut out: for each such defect, those
 * stretches of the slab that bring it there. What is found may still hold another one: the exact outline tells.
 */
export function hiddenPlaces(face: FaceStock, wish: StripWish, top: Top): StripPlace[] {
  const zones = [...Object.values(top.covered), ...Object.values(top.cutOuts)].map(({ polygon }) => bounds(polygon));
  if (zones.length === 0) return [];
  const off = face.keptOff.flatMap(({ area }) => area.map(({ outer }) => bounds(outer)));
  const slab = bounds(face.outline.outer);
  const stretches = off.flatMap((defect) =>
    zones.flatMap((zone) =>
      // The top may lie either way round.
      [
        [zone.minX, zone.maxX],
        [top.length - zone.maxX, top.length - zone.minX],
      ].flatMap(([from, to]) => {
        const [first, last] = [defect.maxX - (to as number), defect.minX - (from as number)];
        if (first > last) return [];
        const [start, end] = [Math.max(slab.minX, first - SLACK), Math.min(slab.maxX, last + top.length + SLACK)];
        return end - start < top.length ? [] : [[start, end] as const];
      }),
    ),
  );
  return stretches
    .slice(0, WAYS)
    .flatMap(([start, end]) =>
      stripPlaces(clipped(face, start, end), wish, false).map((place) => ({ ...place, stock: face })),
    );
}
