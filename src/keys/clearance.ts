import {
  type Bounds,
  bounds,
  contains,
  distanceToSegment,
  type Point,
  type Polygon,
  ribbon,
  type Segment,
} from '../geometry';
import type { KeyRules, KeySize } from '../job';
import { formatLength } from '../units';
import type { KeysInput } from './io';

/** Something that a key must keep clear of, with its name for the reason. */
export interface Obstacle {
  readonly name: string;
  readonly ring: Polygon<'top'>;
  readonly bounds: Bounds;
}

export const obstacle = (name: string, ring: Polygon<'top'>): Obstacle => ({ name, ring, bounds: bounds(ring) });

const mm = (length: number): string => formatLength(length, 'mm', { unit: true, as: 'typed' });

const sides = (ring: Polygon<'top'>): Segment<'top'>[] =>
  ring.map((p, i) => [ring[(i + ring.length - 1) % ring.length] as Point<'top'>, p]);

/** Whether two segments cross (touching at an end counts by the distance instead). */
function cross([a, b]: Segment<'top'>, [c, d]: Segment<'top'>): boolean {
  const turn = (p: Point<'top'>, q: Point<'top'>, r: Point<'top'>) =>
    (q[0] - p[0]) * (r[1] - p[1]) - (q[1] - p[1]) * (r[0] - p[0]);
  return turn(a, b, c) * turn(a, b, d) < 0 && turn(c, d, a) * turn(c, d, b) < 0;
}

/** Least distance between the edges of two rings; 0 where they cross. Wood inside one of them is not looked at. */
function edgeGap(a: Polygon<'top'>, b: Polygon<'top'>, enough = Infinity): number {
  let least = Infinity;
  const box = bounds(a);
  for (const side of sides(b)) {
    const far = bounds(side);
    // Sides farther than what is already known to be enough cannot matter.
    const limit = Math.min(least, enough);
    if (far.minX > box.maxX + limit || far.maxX < box.minX - limit) continue;
    if (far.minY > box.maxY + limit || far.maxY < box.minY - limit) continue;
    for (const own of sides(a)) {
      if (cross(own, side)) return 0;
      least = Math.min(
        least,
        distanceToSegment(own[0], side),
        distanceToSegment(own[1], side),
        distanceToSegment(side[0], own),
        distanceToSegment(side[1], own),
      );
    }
  }
  return least;
}

/** What stands in the way on the top, whatever crack is being keyed. */
export function obstaclesOf({ defects, avoid }: Pick<KeysInput, 'defects' | 'avoid'>): Obstacle[] {
  return [
    ...defects
      .filter(({ kind, permit }) => permit !== 'allow' && !CRACKS.has(kind) && kind !== 'stain')
      .flatMap(({ kind, polygon, line }) => [
        ...(polygon ? [obstacle(`a ${kind}`, polygon)] : []),
        ...(line ? [obstacle(`a ${kind}`, ribbon(line))] : []),
      ]),
    ...avoid.map((ring) => obstacle('an area to avoid', ring)),
  ];
}

const CRACKS: ReadonlySet<string> = new Set(['crack', 'shake']);

/** Cracks and shakes among the defects and the other cracks to be keyed: a key lets no wing into broken wood. */
export function otherCracks(input: Pick<KeysInput, 'cracks' | 'defects'>, own: number): Obstacle[] {
  const line = input.cracks[own]?.line ?? [];
  const others = input.cracks.flatMap((crack, i) => (i === own ? [] : [crack.line]));
  const listed = input.defects.flatMap(({ kind, line: l, permit }) =>
    l && CRACKS.has(kind) && permit !== 'allow' ? [l] : [],
  );
  return [...others, ...listed.filter((l) => !sameCrack(l, line))].map((l) => obstacle('another crack', ribbon(l)));
}

/** A crack traced twice: every place of one lies within 10 mm of the other's line. */
function sameCrack(a: readonly (readonly [number, number, number])[], b: typeof a): boolean {
  const near = ([x, y]: readonly [number, number, number]) =>
    b.some((q, i) => {
      const p = b[Math.max(0, i - 1)] as (typeof b)[number];
      return (
        distanceToSegment<'top'>(
          [x, y],
          [
            [p[0], p[1]],
            [q[0], q[1]],
          ],
        ) <= 10
      );
    });
  return a.every(near);
}

/** Why a key may not lie here, in words that follow "because", or null when every rule is kept. */
export function objection(
  key: Polygon<'top'>,
  size: KeySize,
  outline: Polygon<'top'>,
  obstacles: readonly Obstacle[],
  rules: KeyRules,
): string | null {
  const SLACK = 1e-6;
  if (!key.every((p) => contains(outline, p))) return 'the key would reach over the edge of the top';
  const edge = edgeGap(key, outline, rules.edge);
  if (edge < rules.edge - SLACK) return `the edge of the top is ${mm(edge)} away and the rule asks ${mm(rules.edge)}`;
  const box = bounds(key);
  const whole = bounds(outline);
  const end = Math.min(box.minX - whole.minX, whole.maxX - box.maxX);
  const asked = rules.end * size.length;
  if (end < asked - SLACK) return `an end of the top is ${mm(end)} away and the rule asks ${mm(asked)}`;
  for (const { name, ring, bounds: b } of obstacles) {
    const far = Math.max(b.minX - box.maxX, box.minX - b.maxX, b.minY - box.maxY, box.minY - b.maxY);
    if (far >= rules.clear) continue;
    const inside = contains(ring, key[0] as Point<'top'>) || contains(key, ring[0] as Point<'top'>);
    const gap = inside ? 0 : edgeGap(key, ring, rules.clear);
    if (gap < rules.clear - SLACK)
      return gap === 0 ? `${name} is in its way` : `${name} is ${mm(gap)} away and the rule asks ${mm(rules.clear)}`;
  }
  return null;
}
