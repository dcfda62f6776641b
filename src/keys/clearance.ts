import { type Bounds, bounds, distanceToSegment, type Point, type Polygon, ribbon, type Segment } from '../geometry';
import type { KeyRuleName, KeyRules, KeySize } from '../job';
import { areaGap, gapToSides, sidesOf } from './gap';
import type { KeysInput } from './io';
import type { Say } from './say';
import type { Pose } from './shape';

/** Rules about how far a key keeps off a thing beside it. */
export type ClearRule = Extract<
  KeyRuleName,
  'clear' | 'knot' | 'void' | 'crack' | 'seam' | 'cutOut' | 'hardware' | 'key'
>;

/** Something that a key must keep clear of, with its name for the reason and the rule that says by how much. */
export interface Obstacle {
  readonly name: string;
  readonly rule: ClearRule;
  readonly ring: Polygon<'top'>;
  readonly bounds: Bounds;
}

export const obstacle = (name: string, ring: Polygon<'top'>, rule: ClearRule = 'clear'): Obstacle => ({
  name,
  rule,
  ring,
  bounds: bounds(ring),
});

/** How much wood a rule asks for, mm: the rule for defects where it has no figure of its own. */
export const askedBy = (rules: KeyRules, rule: ClearRule): number => rules[rule] ?? rules.clear;

/** A rule that a key breaks where it lies. */
export interface Objection {
  readonly rule: KeyRuleName;
  /** In words that follow "because". */
  readonly why: (say: Say) => string;
  /** What there is, and what the rule asks, in the rule's own measure (mm or degrees). */
  readonly is: number;
  readonly asked: number;
}

const SLACK = 1e-6;
/** Least distance within which one looks, mm: at a rule of 0 a key may touch and not cross. */
const LEAST = 1e-3;

const RULE_OF: Readonly<Record<string, ClearRule>> = {
  knot: 'knot',
  void: 'void',
  'bark inclusion': 'void',
  rot: 'void',
  seam: 'seam',
  'cut-out': 'cutOut',
  hardware: 'hardware',
};
const CALLED: Readonly<Record<string, string>> = {
  seam: 'a seam',
  'cut-out': 'a cut-out',
  hardware: 'hardware',
  covered: 'a covered part',
};

/** What stands in the way on the top, whatever crack is being keyed. */
export function obstaclesOf({
  defects,
  avoid,
  keepOff = [],
}: Pick<KeysInput, 'defects' | 'avoid'> & Partial<Pick<KeysInput, 'keepOff'>>): Obstacle[] {
  return [
    ...defects
      .filter(({ kind, permit }) => permit !== 'allow' && !CRACKS.has(kind) && kind !== 'stain')
      .flatMap(({ kind, polygon, line }) => [
        ...(polygon ? [obstacle(`a ${kind}`, polygon, RULE_OF[kind])] : []),
        ...(line ? [obstacle(`a ${kind}`, ribbon(line), RULE_OF[kind])] : []),
      ]),
    ...avoid.map((ring) => obstacle('an area to avoid', ring)),
    ...keepOff.map(({ kind, name, polygon }) => obstacle(name ?? (CALLED[kind] as string), polygon, RULE_OF[kind])),
  ];
}

const CRACKS: ReadonlySet<string> = new Set(['crack', 'shake']);

/**
 * Cracks and shakes among the defects and the other cracks to be keyed: a key lets no wing into broken wood. A seam that is to be decorated is no
 * crack, but what keys another crack keeps off it by the rule for seams.
 */
function otherCracks(input: Pick<KeysInput, 'cracks' | 'defects'>, own: number): Obstacle[] {
  const line = input.cracks[own]?.line ?? [];
  const others = input.cracks.flatMap((crack, i) => (i === own || sameCrack(crack.line, line) ? [] : [crack]));
  const listed = input.defects.flatMap(({ kind, line: l, permit }) =>
    l && CRACKS.has(kind) && permit !== 'allow' && !sameCrack(l, line) ? [l] : [],
  );
  return [
    ...others.map(({ line: l, kind }) =>
      kind === 'seam' ? obstacle('a seam', ribbon(l), 'seam') : obstacle('another crack', ribbon(l), 'crack'),
    ),
    ...listed.map((l) => obstacle('another crack', ribbon(l), 'crack')),
  ];
}

/** Nearer than this to its line, mm, a seam to keep clear of is the one that is decorated. */
const OWN_SEAM = 1;

/** What the keys of one crack keep clear of: what stands on the top, and other cracks. Those over a seam do not mind that seam. */
export function aboutCrack(input: KeysInput, index: number, standing: readonly Obstacle[]): Obstacle[] {
  const all = [...standing, ...otherCracks(input, index)];
  const { kind, line } = input.cracks[index] as KeysInput['cracks'][number];
  if (kind !== 'seam') return all;
  const own = line.map(([x, y]): Point<'top'> => [x, y]);
  return all.filter(({ rule, ring }) => rule !== 'seam' || areaGap(own, ring, OWN_SEAM) === null);
}

type Line = readonly (readonly [number, number, number])[];

/** A crack traced twice: every place of one lies within 10 mm of the other's line. */
export function sameCrack(a: Line, b: Line): boolean {
  const near = ([x, y]: Line[number]) =>
    b.some((q, i) => {
      const p = b[Math.max(0, i - 1)] as Line[number];
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

/** What is near a stretch of the top, made ready so that many places of a key can be tried on it. */
export class Site {
  private readonly whole: Bounds;
  private readonly edge: readonly Segment<'top'>[];
  private readonly obstacles: readonly Obstacle[];

  /**
   * @param about the stretch @param reach how far from it a key's outline may lie, mm
   * @param grain of the slab there, degrees against x; null where it is not known
   */
  constructor(
    outline: Polygon<'top'>,
    obstacles: readonly Obstacle[],
    private readonly rules: KeyRules,
    about: Bounds,
    reach: number,
    private readonly grain: number | null,
  ) {
    this.whole = bounds(outline);
    const near = (box: Bounds, by: number) =>
      box.minX <= about.maxX + by &&
      box.maxX >= about.minX - by &&
      box.minY <= about.maxY + by &&
      box.maxY >= about.minY - by;
    this.edge = sidesOf(outline).filter((side) => near(bounds(side), reach + rules.edge));
    this.obstacles = obstacles.filter((each) => near(each.bounds, reach + askedBy(rules, each.rule)));
  }

  /** The first rule that a key breaks, or null where it keeps all. */
  objection(key: Polygon<'top'>, size: KeySize, pose: Pose): Objection | null {
    return this.objections(key, size, pose).next().value ?? null;
  }

  /** Every rule that a key breaks, each with how far it misses: by the edge, the ends, the grain, then thing by thing. */
  *objections(key: Polygon<'top'>, size: KeySize, pose: Pose): Generator<Objection, void> {
    const { rules } = this;
    if (this.edge.length > 0) {
      const edge = gapToSides(key, this.edge, Math.max(rules.edge, LEAST))?.mm ?? rules.edge;
      // Its middle lies on a crack inside the top, so it reaches over the edge only where it crosses it.
      if (edge === 0)
        yield { rule: 'edge', why: () => 'the key would reach over the edge of the top', is: -1, asked: rules.edge };
      else if (edge < rules.edge - SLACK) yield this.near('edge', 'the edge of the top', edge, rules.edge);
    }
    const box = bounds(key);
    const end = Math.min(box.minX - this.whole.minX, this.whole.maxX - box.maxX);
    const asked = rules.end * size.length;
    if (end < asked - SLACK) yield this.near('end', 'an end of the top', end, asked);
    const turn = this.grain === null ? 90 : offGrain(pose, this.grain);
    if (turn < rules.turn - SLACK)
      yield {
        rule: 'turn',
        why: () => `its grain would lie ${Math.round(turn)} degrees off the slab's and the rule asks ${rules.turn}`,
        is: turn,
        asked: rules.turn,
      };
    for (const { name, rule, ring, bounds: b } of this.obstacles) {
      const clear = askedBy(rules, rule);
      const far = Math.max(b.minX - box.maxX, box.minX - b.maxX, b.minY - box.maxY, box.minY - b.maxY);
      if (far >= clear && far > 0) continue;
      const gap = areaGap(key, ring, Math.max(clear, LEAST))?.mm ?? Infinity;
      if (gap === 0) yield { rule, why: () => `${name} is in its way`, is: -1, asked: clear };
      else if (gap < clear - SLACK) yield this.near(rule, name, gap, clear);
    }
  }

  private near(rule: KeyRuleName, name: string, is: number, asked: number): Objection {
    return { rule, why: (say) => `${name} is ${say(is)} away and the rule asks ${say(asked)}`, is, asked };
  }
}

/** Angle between a key's length and the grain, 0 to 90 degrees. */
export function offGrain({ turn }: Pose, grain: number): number {
  const apart = Math.abs((turn * 180) / Math.PI - grain) % 180;
  return Math.min(apart, 180 - apart);
}
