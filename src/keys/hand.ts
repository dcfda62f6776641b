import { bounds, contains, distance, nearestOnSegment, type Point, type Polygon } from '../geometry';
import type { KeySize, SetKey } from '../job';
import { askedBy, type Obstacle, obstaclesOf, offGrain, otherCracks } from './clearance';
import { type CrackPart, measured } from './crack-line';
import { areaGap, edgeGap, type Gap } from './gap';
import type { Key, KeysInput, KeysOutput } from './io';
import { keyOf, layoutOf } from './place-keys';
import { type Say, sayIn } from './say';
import { keyOutline, type Pose } from './shape';
import { fittingSizes } from './size';

/** A key in the hand: as the job keeps it, its crack by its place in the input. */
export type HandKey = Omit<SetKey, 'crack'> & { readonly crack: number };

/** How far a key stands off one thing, and what the rules ask. */
export interface Clearance {
  readonly to: string;
  readonly mm: number;
  readonly asked: number;
  /** Most that the rules allow, where they allow no more: between two keys of a crack. */
  readonly most: number | null;
  /** Where it is measured, on the top. */
  readonly from: Point<'top'>;
  readonly at: Point<'top'>;
}

/** A key looked at where it stands. */
export interface Judged {
  readonly pose: Pose;
  readonly outline: Polygon<'top'>;
  /** Of its pocket, mm; null where the size has none that suits the top. */
  readonly depth: number | null;
  readonly clearances: readonly Clearance[];
  /** What speaks against it, in a sentence; null where it keeps every rule. */
  readonly against: string | null;
}

/** Farther off than this, mm, nothing is said to be near. */
const NEAR = 300;
/** Short of a rule by less than this, mm, it is kept: no tape shows it. */
const SLACK = 0.05;
/** Nearer than this, mm, a thing is said to be in the way. */
const IN_ITS_WAY = 0.5;
/** Step of the search for the nearest place that would do, mm. */
const STEP = 1;

/** Whether a clearance keeps the least that is asked. */
export const kept = ({ mm: is, asked }: Clearance): boolean => is >= asked - SLACK;

const shareFace = (a: HandKey, b: HandKey): boolean => a.face === b.face || a.face === 'both' || b.face === 'both';

/**
 * A top whose keys are set by hand: what does not change while one of them slides is made ready once, so that each place of it is
 * judged within a frame.
 */
export class KeyRoom {
  private readonly parts: readonly CrackPart[];
  private readonly others: readonly (readonly Obstacle[])[];
  private readonly whole;
  private readonly say: Say;

  constructor(private readonly input: KeysInput) {
    this.parts = input.cracks.map(({ line }) => measured(line));
    const standing = obstaclesOf(input);
    this.others = input.cracks.map((_, i) => [...standing, ...otherCracks(input, i)]);
    this.whole = bounds(input.top.outline);
    this.say = sayIn(input.units);
  }

  /** Length of a crack along its line, mm. */
  lengthOf(crack: number): number {
    return this.parts[crack]?.length ?? 0;
  }

  /** The place on a crack so many mm from its first tip. */
  placeOn(crack: number, along: number): Point<'top'> {
    return (this.parts[crack] as CrackPart).at(along);
  }

  /** How far along a crack its point nearest to a place lies, mm, and how far off that is. */
  nearestOn(crack: number, place: Point<'top'>): { readonly along: number; readonly off: number } {
    const line = (this.input.cracks[crack]?.line ?? []).map(([x, y]): Point<'top'> => [x, y]);
    let best = { along: 0, off: Infinity };
    let before = 0;
    for (let i = 1; i < line.length; i++) {
      const [a, b] = [line[i - 1], line[i]] as [Point<'top'>, Point<'top'>];
      const foot = nearestOnSegment(place, [a, b]);
      const off = distance(foot, place);
      if (off < best.off) best = { along: before + distance(a, foot), off };
      before += distance(a, b);
    }
    return best;
  }

  sizeOf(key: HandKey): KeySize | null {
    return this.input.sizes.find(({ id }) => id === key.size) ?? null;
  }

  /** How a key of the list stands among the others; null where its size is none of the shop's. */
  judge(keys: readonly HandKey[], i: number): Judged | null {
    const key = keys[i] as HandKey;
    const size = this.sizeOf(key);
    const part = this.parts[key.crack];
    if (!size || !part) return null;
    const pose = this.poseOf(key, size, part);
    const outline = keyOutline(size, pose);
    const clearances = [
      ...this.alongIt(keys, i, size, part),
      ...this.aroundIt(outline, size, key.crack),
      ...this.otherKeys(keys, i, outline),
    ];
    const { depth, reason } = this.depthOf(keys, i, size, outline);
    const broken = clearances.find((each) => !kept(each));
    const over = !outline.every((p) => contains(this.input.top.outline, p));
    const against = over
      ? 'It reaches over the edge of the top.'
      : broken
        ? this.brokenWords(broken)
        : depth === null
          ? reason
          : this.againstGrain(key, pose);
    return { pose, outline, depth, clearances, against };
  }

  /** The place along its crack nearest to where a key stands at which it keeps every rule; null where there is none. */
  nearestFree(keys: readonly HandKey[], i: number): number | null {
    const key = keys[i] as HandKey;
    const length = this.lengthOf(key.crack);
    const free = (along: number) =>
      along >= 0 &&
      along <= length &&
      this.judge(
        keys.map((one, k) => (k === i ? { ...one, along } : one)),
        i,
      )?.against === null;
    if (free(key.along)) return key.along;
    for (let d = STEP; d <= length; d += STEP) {
      const found = [Math.round(key.along) - d, Math.round(key.along) + d].find(free);
      if (found !== undefined) return found;
    }
    return null;
  }

  /** The keys as they are given out, what they hold, and those that break a rule or cannot be made. */
  given(keys: readonly HandKey[]): KeysOutput {
    const made: Key[] = [];
    const refused: KeysOutput['refused'] = [];
    keys.forEach((key, i) => {
      const judged = this.judge(keys, i);
      const size = this.sizeOf(key);
      if (!judged || !size) {
        refused.push({ crack: key.crack, reason: `The shop has no key of size "${key.size}".` });
        return;
      }
      if (judged.against !== null)
        refused.push({
          crack: key.crack,
          reason: `The key set ${this.say(key.along)} along the crack: ${judged.against}`,
        });
      if (judged.depth === null) return;
      const fit = { size, depth: judged.depth };
      for (const face of key.face === 'both' ? (['top', 'bottom'] as const) : [key.face]) {
        const spot = { crack: key.crack, part: 0, along: key.along, face, twin: key.face === 'both' };
        made.push(keyOf(spot, judged.pose, fit, this.input));
      }
    });
    return layoutOf(this.input, made, refused);
  }

  private poseOf({ along, turn }: HandKey, size: KeySize, part: CrackPart): Pose {
    return { at: part.at(along), turn: part.direction(along, size.end / 2) + Math.PI / 2 + (turn * Math.PI) / 180 };
  }

  private depthOf(keys: readonly HandKey[], i: number, size: KeySize, outline: Polygon<'top'>) {
    const key = keys[i] as HandKey;
    const opposite = keys.some(
      (other, k) => k !== i && !shareFace(key, other) && this.gapTo(other, outline, 1) !== null,
    );
    const crack = { widest: this.parts[key.crack]?.widest ?? 0, both: key.face === 'both' || opposite };
    const { fits, reason } = fittingSizes([size], crack, this.input);
    return { depth: fits[0]?.depth ?? null, reason };
  }

  private brokenWords({ to, mm, asked }: Clearance): string {
    const thing = `${to.charAt(0).toUpperCase()}${to.slice(1)}`;
    if (mm < IN_ITS_WAY) return `${thing} is in its way.`;
    return `${thing} is ${this.say(mm)} away; the rule asks ${this.say(asked)}.`;
  }

  /** Whether its grain runs too much along that of the slab, in a sentence. */
  private againstGrain({ crack }: HandKey, pose: Pose): string | null {
    const { top, cracks, rules } = this.input;
    const grain = cracks[crack]?.grain ?? top.grain;
    const off = grain === undefined ? 90 : offGrain(pose, grain);
    if (off >= rules.turn - SLACK) return null;
    return `Its grain lies ${Math.round(off)}° off that of the slab; the rule asks ${rules.turn}°.`;
  }

  private gapTo(other: HandKey, outline: Polygon<'top'>, within: number): Gap | null {
    const size = this.sizeOf(other);
    const part = this.parts[other.crack];
    return size && part ? areaGap(outline, keyOutline(size, this.poseOf(other, size, part)), within) : null;
  }

  /** To the nearer tip, and to the keys before and after it on the same crack, middle to middle. */
  private alongIt(keys: readonly HandKey[], i: number, size: KeySize, part: CrackPart): Clearance[] {
    const key = keys[i] as HandKey;
    const { rules } = this.input;
    const from = part.at(key.along);
    const tip = key.along < part.length / 2 ? 0 : part.length;
    const found: Clearance[] = [
      {
        to: 'the tip',
        mm: Math.abs(tip - key.along),
        // A crack too short for two keys has one in its middle, however near its tips.
        asked: Math.min(rules.tip * size.length, part.length / 2),
        most: null,
        from,
        at: part.at(tip),
      },
    ];
    for (const side of [-1, 1]) {
      const next = keys
        .filter((other, k) => k !== i && other.crack === key.crack && shareFace(key, other))
        .filter(({ along }) => (side > 0 ? along >= key.along : along < key.along))
        .sort((a, b) => side * (a.along - b.along))[0];
      if (!next) continue;
      const length = (size.length + (this.sizeOf(next)?.length ?? size.length)) / 2;
      found.push({
        to: side < 0 ? 'the key before' : 'the next key',
        mm: Math.abs(next.along - key.along),
        asked: rules.leastSpacing * length,
        most: rules.spacing * length,
        from,
        at: part.at(next.along),
      });
    }
    return found;
  }

  /** To the edge, the ends, and each kind of thing that is near. */
  private aroundIt(outline: Polygon<'top'>, size: KeySize, crack: number): Clearance[] {
    const { top, rules } = this.input;
    const found: Clearance[] = [];
    const edge = edgeGap(outline, top.outline, NEAR);
    if (edge) found.push(cleared('the edge', edge, rules.edge));
    found.push(this.toEnd(outline, rules.end * size.length));
    const nearest = new Map<string, { gap: Gap; rule: Obstacle['rule'] }>();
    for (const { name, rule, ring } of this.others[crack] ?? []) {
      const gap = areaGap(outline, ring, nearest.get(name)?.gap.mm ?? NEAR);
      if (gap) nearest.set(name, { gap, rule });
    }
    for (const [name, { gap, rule }] of nearest) found.push(cleared(name, gap, askedBy(rules, rule)));
    return found;
  }

  private toEnd(outline: Polygon<'top'>, asked: number): Clearance {
    const { minX, maxX } = this.whole;
    const box = bounds(outline);
    const right = box.minX - minX <= maxX - box.maxX;
    const x = right ? box.minX : box.maxX;
    const from = outline.find((p) => p[0] === x) as Point<'top'>;
    const at: Point<'top'> = [right ? minX : maxX, from[1]];
    return { to: 'the end', mm: right ? x - minX : maxX - x, asked, most: null, from, at };
  }

  /** To the nearest key beside those of its row: of another crack. */
  private otherKeys(keys: readonly HandKey[], i: number, outline: Polygon<'top'>): Clearance[] {
    const key = keys[i] as HandKey;
    const clear = askedBy(this.input.rules, 'key');
    let best: Gap | null = null;
    keys.forEach((other, k) => {
      if (k === i || !shareFace(key, other)) return;
      best = this.gapTo(other, outline, best?.mm ?? clear) ?? best;
    });
    return best ? [cleared('another key', best, clear)] : [];
  }
}

const cleared = (to: string, { mm: is, from, to: at }: Gap, asked: number): Clearance => ({
  to,
  mm: is,
  asked,
  most: null,
  from,
  at,
});

/** Keys where the maker set them, in the form in which they are proposed. @throws InputProblem for an unknown species */
export const keysByHand = (input: KeysInput, set: readonly HandKey[]): KeysOutput => new KeyRoom(input).given(set);

/** Proposed keys as a hand takes them up: one from each face at one place of a crack are one key on both faces. */
export function takenInHand(room: KeyRoom, keys: readonly Pick<Key, 'crack' | 'face' | 'at' | 'size'>[]): HandKey[] {
  const taken: HandKey[] = [];
  for (const { crack, face, at, size } of keys) {
    const { along } = room.nearestOn(crack, at);
    const twin = taken.findIndex(
      (one) => one.crack === crack && one.size === size && one.face !== face && Math.abs(one.along - along) < SLACK,
    );
    const other = taken[twin];
    if (other) taken[twin] = { ...other, face: 'both' };
    else taken.push({ crack, along, size, face, turn: 0 });
  }
  return taken;
}
