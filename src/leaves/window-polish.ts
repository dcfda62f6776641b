import type { Point } from '../geometry';
import { leastTogether } from './least-together';

const range = (from: number, to: number, step: number): number[] =>
  Array.from({ length: Math.round((to - from) / step) + 1 }, (_, i) => from + i * step);

/** Places about each window that are looked at all together, mm along the grain (looks are read every 5 mm) and across it. */
interface About {
  readonly along: readonly number[];
  readonly across: readonly number[];
}
const FAR: About = { along: range(-10, 10, 5), across: range(-6, 6, 1) };
const NEAR: About = { along: range(-4, 4, 1), across: range(-2, 2, 1) };
/** A best that lies at the rim is looked about again, so many times at most. */
const ROUNDS = 4;

/** Two windows that meet. */
export interface Meeting {
  readonly slots: readonly [number, number];
  /** What their joints come to for all places of the one and the other, [first][second]; Infinity where the two may not stand so. */
  readonly costs: (a: readonly Point<'face'>[], b: readonly Point<'face'>[]) => Float32Array;
}

/** What the windows of a sheet are judged by. */
export interface Judged {
  readonly fits: (slot: number, at: Point<'face'>) => boolean;
  readonly own: (slot: number, at: Point<'face'>) => number;
  readonly meetings: readonly Meeting[];
}

/**
 * The best places of windows about given ones, in a row or round a centre: all places within a few millimetres of each, all joints at once. A joint's cost
 * is rough at a millimetre, so windows moved one at a time stop short of it.
 * @param far whether the best may lie farther off than a few mm
 */
export function polished(start: readonly Point<'face'>[], judged: Judged, far: boolean): Point<'face'>[] {
  const begun = far ? settled(start, judged, FAR) : start;
  return settled(begun, judged, NEAR);
}

function settled(start: readonly Point<'face'>[], judged: Judged, { along, across }: About): Point<'face'>[] {
  let at = [...start];
  for (let round = 0; round < ROUNDS; round++) {
    const places = at.map(([u, v], k) =>
      along.flatMap((du) => across.map((dv): Point<'face'> => [u + du, v + dv])).filter((p) => judged.fits(k, p)),
    );
    const next = bestAmong(places, judged, at);
    const rim = next.some(([u, v], k) => {
      const [u0, v0] = at[k] as Point<'face'>;
      return Math.abs(u - u0) >= (along.at(-1) ?? 0) || Math.abs(v - v0) >= (across.at(-1) ?? 0);
    });
    at = next;
    if (!rim) break;
  }
  return at;
}

/** The best place of each window among those given, all joints counted. @param from where they stand; the first of each where left out */
export function bestAmong(
  places: readonly (readonly Point<'face'>[])[],
  { own, meetings }: Judged,
  from?: readonly Point<'face'>[],
): Point<'face'>[] {
  const held = places.map((at, k) => {
    const now = from?.[k];
    return now
      ? Math.max(
          0,
          at.findIndex(([u, v]) => u === now[0] && v === now[1]),
        )
      : 0;
  });
  const chosen = leastTogether(
    places.map((at, k) => Float64Array.from(at, (place) => own(k, place))),
    meetings.map(({ slots: [a, b], costs }) => ({
      of: [a, b] as const,
      costs: costs(places[a] as Point<'face'>[], places[b] as Point<'face'>[]),
    })),
    held,
  );
  return chosen.map((i, k) => (places[k] as Point<'face'>[])[i] as Point<'face'>);
}
