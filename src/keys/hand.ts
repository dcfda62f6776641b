import { bounds, contains, distance, type Point, type Polygon } from '../geometry';
import type { KeySize, SetKey } from '../job';
import { aboutCrack, askedBy, type Obstacle, obstaclesOf, offGrain } from './clearance';
import { brokenArea, heldOf } from './crack-facts';
import { type CrackPart, measured } from './crack-line';
import { areaGap, edgeGap, type Gap } from './gap';
import { holdOf } from './hold';
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
  /** Where its fellow in the lower face lies, if it lies elsewhere: under a crack whose trace on that face is known. */
  readonly under: Polygon<'top'> | null;
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
/** Places nearer than this are one, mm. */
const SAME = 1e-6;
/** Nearer than this, mm, a thing is said to be in the way. */
const IN_ITS_WAY = 0.5;
/** Step of the search for the nearest place that would do, mm. */
const STEP = 1;

/** Whether a clearance keeps the least that is asked. */
export const kept = ({ mm: is, asked }: Clearance): boolean => is >= asked - SLACK;

type Face = Key['face'];

/** The faces that a key is let into, the upper one first. */
const facesOf = ({ face }: HandKey): readonly Face[] => (face === 'both' ? ['top', 'bottom'] : [face]);

const shareFace = (a: HandKey, b: HandKey): boolean => a.face === b.face || a.face === 'both' || b.face === 'both';

/**
 * A top whose keys are set by hand: what does not change while one of them slides is made ready once, so that each place of it is
 * judged within a frame.
 */
export class KeyRoom {
  /** The lines of each crack that its keys stand on, by their face: below, its trace on the far face where that is known. */
  private readonly parts: readonly Readonly<Record<Face, CrackPart>>[];
  private readonly others: readonly (readonly Obstacle[])[];
  private readonly whole;
  private readonly say: Say;
  /** Wood that the cracks have parted, mm2. */
  private readonly broken: number;

  constructor(private readonly input: KeysInput) {
    this.parts = input.cracks.map(({ line, far }) => {
      const top = measured(line);
      return { top, bottom: far ? measured(far) : top };
    });
    const standing = obstaclesOf(input);
    this.others = input.cracks.map((_, i) => aboutCrack(input, i, standing));
    this.whole = bounds(input.top.outline);
    this.say = sayIn(input.units);
    this.broken = brokenArea(input);
  }

  /** Length of a crack along the line that a key of a face stands on, mm. */
  lengthOf(crack: number, face: HandKey['face'] = 'top'): number {
    return this.partOf(crack, face)?.length ?? 0;
  }

  /** The place on a crack so many mm from its first tip. */
  placeOn(crack: number, along: number, face: HandKey['face'] = 'top'): Point<'top'> {
    return (this.partOf(crack, face) as CrackPart).at(along);
  }

  /** How far along a crack its point nearest to a place lies, mm, and how far off that is. */
  nearestOn(crack: number, place: Point<'top'>, face: HandKey['face'] = 'top') {
    return this.partOf(crack, face)?.nearest(place) ?? { along: 0, off: Infinity };
  }

  /** The middle of a key in each face that it is let into. */
  placesOf(key: HandKey): { readonly face: Face; readonly at: Point<'top'> }[] {
    return facesOf(key).map((face) => ({ face, at: this.placeOn(key.crack, this.alongIn(key, face), face) }));
  }

  /** The line that a key of one face stands on; one from each face is measured along the upper one. */
  private partOf(crack: number, face: HandKey['face']): CrackPart | undefined {
    return this.parts[crack]?.[face === 'bottom' ? 'bottom' : 'top'];
  }

  /** How far along the line of one face a key stands: as the hand put it, or right under that. */
  private alongIn({ crack, along, face: of }: HandKey, face: Face): number {
    const [own, there] = [this.partOf(crack, of), this.partOf(crack, face)];
    return !own || !there || own === there ? along : there.nearest(own.at(along)).along;
  }

  sizeOf(key: HandKey): KeySize | null {
    return this.input.sizes.find(({ id }) => id === key.size) ?? null;
  }

  /** How a key of the list stands among the others; null where its size is none of the shop's. */
  judge(keys: readonly HandKey[], i: number): Judged | null {
    const key = keys[i] as HandKey;
    const size = this.sizeOf(key);
    if (!size || !this.parts[key.crack]) return null;
    const [own, fellow] = this.liesOf(key, size);
    if (!own) return null;
    const { pose, outline } = own;
    const clearances = leastOf([
      ...this.alongIt(keys, i, size),
      ...[own, ...(fellow ? [fellow] : [])].flatMap((lies) => [
        ...this.aroundIt(lies.outline, size, key.crack),
        ...this.otherKeys(keys, i, lies),
      ]),
    ]);
    const { depth, reason } = this.depthOf(keys, i, size, outline);
    const broken = clearances.find((each) => !kept(each));
    const under = fellow?.outline ?? null;
    const over = ![...outline, ...(under ?? [])].every((p) => contains(this.input.top.outline, p));
    const against = over
      ? 'It reaches over the edge of the top.'
      : broken
        ? this.brokenWords(broken)
        : depth === null
          ? reason
          : this.againstGrain(key, pose);
    return { pose, outline, under, depth, clearances, against };
  }

  /** The place along its crack nearest to where a key stands at which it keeps every rule; null where there is none. */
  nearestFree(keys: readonly HandKey[], i: number): number | null {
    const key = keys[i] as HandKey;
    const length = this.lengthOf(key.crack, key.face);
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

  /** What the keys hold as they stand: quick enough to be asked at every frame. */
  holds(keys: readonly HandKey[]): KeysOutput['hold'] {
    const { species, keySpecies } = this.input;
    const held = keys.flatMap((key, i) => {
      const size = this.sizeOf(key);
      const [lies] = size && this.parts[key.crack] ? this.liesOf(key, size) : [];
      const depth = size && lies ? this.depthOf(keys, i, size, lies.outline).depth : null;
      return depth === null ? [] : facesOf(key).map(() => ({ crack: key.crack, size: key.size, depth }));
    });
    return holdOf(heldOf(this.input, held), species, keySpecies, this.broken);
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
      for (const face of facesOf(key)) {
        const spot = { crack: key.crack, part: 0, along: this.alongIn(key, face), face, twin: key.face === 'both' };
        made.push(keyOf(spot, this.poseIn(key, size, face), fit, this.input));
      }
    });
    return layoutOf(this.input, made, refused);
  }

  private poseIn(key: HandKey, size: KeySize, face: Face): Pose {
    const part = this.partOf(key.crack, face) as CrackPart;
    const along = this.alongIn(key, face);
    const square = part.direction(along, size.end / 2) + Math.PI / 2;
    return { at: part.at(along), turn: square + (key.turn * Math.PI) / 180 };
  }

  /** Where a key lies: once where its fellow in the other face lies right under it. */
  private liesOf(key: HandKey, size: KeySize): Lies[] {
    const { top, bottom } = this.parts[key.crack] as Record<Face, CrackPart>;
    const faces = facesOf(key);
    return (top === bottom ? faces.slice(0, 1) : faces).map((face) => {
      const pose = this.poseIn(key, size, face);
      return { faces: top === bottom ? faces : [face], pose, outline: keyOutline(size, pose) };
    });
  }

  private depthOf(keys: readonly HandKey[], i: number, size: KeySize, outline: Polygon<'top'>) {
    const key = keys[i] as HandKey;
    const opposite = keys.some(
      (other, k) => k !== i && !shareFace(key, other) && this.gapTo(other, facesOf(other), outline, 1) !== null,
    );
    const crack = { widest: this.partOf(key.crack, key.face)?.widest ?? 0, both: key.face === 'both' || opposite };
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

  /** The gap to another key in any of some faces. */
  private gapTo(other: HandKey, faces: readonly Face[], outline: Polygon<'top'>, within: number): Gap | null {
    const size = this.sizeOf(other);
    if (!size || !this.parts[other.crack]) return null;
    return this.liesOf(other, size).reduce<Gap | null>((best, lies) => {
      if (!lies.faces.some((face) => faces.includes(face))) return best;
      return areaGap(outline, lies.outline, best?.mm ?? within) ?? best;
    }, null);
  }

  /** To the nearer tip, and to the keys before and after it on the same crack, middle to middle. */
  private alongIt(keys: readonly HandKey[], i: number, size: KeySize): Clearance[] {
    const key = keys[i] as HandKey;
    const part = this.partOf(key.crack, key.face) as CrackPart;
    const [face] = facesOf(key) as [Face];
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
        .map((other) => ({ ...other, along: this.alongIn(other, face) }))
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
  private otherKeys(keys: readonly HandKey[], i: number, { faces, outline }: Lies): Clearance[] {
    const clear = askedBy(this.input.rules, 'key');
    let best: Gap | null = null;
    keys.forEach((other, k) => {
      if (k !== i) best = this.gapTo(other, faces, outline, best?.mm ?? clear) ?? best;
    });
    return best ? [cleared('another key', best, clear)] : [];
  }
}

/** Where a key lies, and in which faces. */
interface Lies {
  readonly faces: readonly Face[];
  readonly pose: Pose;
  readonly outline: Polygon<'top'>;
}

/** Of the clearances to each thing the one with least to spare. */
function leastOf(all: readonly Clearance[]): Clearance[] {
  const least = new Map<string, Clearance>();
  for (const each of all) {
    const known = least.get(each.to);
    if (!known || each.mm - each.asked < known.mm - known.asked) least.set(each.to, each);
  }
  return [...least.values()];
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
    const { along } = room.nearestOn(crack, at, face);
    const own: HandKey = { crack, along, size, face, turn: 0 };
    const asOne = (one: HandKey): HandKey => ({ ...own, along: face === 'top' ? along : one.along, face: 'both' });
    const twin = taken.findIndex((one) => {
      if (one.crack !== crack || one.size !== size || one.face === 'both' || one.face === face) return false;
      const places = [...room.placesOf(one), ...room.placesOf(own)];
      // Only where each stays just where it is.
      return room
        .placesOf(asOne(one))
        .every(({ face: of, at: to }) => places.some((place) => place.face === of && distance(place.at, to) < SAME));
    });
    const other = taken[twin];
    if (other) taken[twin] = asOne(other);
    else taken.push(own);
  }
  return taken;
}
