import {
  bounds,
  contains,
  difference,
  intersection,
  offset,
  type Polygon,
  type Region,
  regionsArea,
  ribbon,
  type WideLine,
} from '../geometry';
import type { KeySize } from '../job';
import { CrackWalk } from './check-walk';
import type { Key, KeysInput, KeysOutput } from './io';

/**
 * The independent check of a layout: by exact polygons, from the input and what was given out, sharing no code with the search. Every rule is to be kept
 * to 0.1 mm.
 */

export interface KeyFault {
  /** Place of the key in the layout; null where a row lacks one. */
  readonly key: number | null;
  readonly rule: string;
  readonly message: string;
}

/** mm, degrees. */
const WITHIN = 0.1;
/** mm2 that clipping to whole micrometres may leave. */
const CRUMB = 0.05;

const region = (outer: Polygon<'top'>): Region<'top'> => ({ outer, holes: [] });
const grown = (ring: Polygon<'top'>, by: number): Region<'top'>[] =>
  by > 0 ? offset([region(ring)], by) : [region(ring)];
const overlaps = (a: readonly Region<'top'>[], key: Polygon<'top'>): boolean =>
  regionsArea(intersection(a, [region(key)])) > CRUMB;

/** What a layout breaks of its rules; nothing where it keeps them all. */
export function checkKeys(input: KeysInput, { keys, refused }: Pick<KeysOutput, 'keys' | 'refused'>): KeyFault[] {
  const faults: KeyFault[] = [];
  const walks = keys.map((key) => new CrackWalk(lineOf(input, key), input.top.outline, key.at));
  const hindrances = hindrancesOf(input);
  keys.forEach((key, i) => {
    const say = (rule: string, message: string) => faults.push({ key: i, rule, message });
    const size = input.sizes.find(({ id }) => id === key.size);
    if (!size) {
      say('size', `No size is called "${key.size}".`);
      return;
    }
    checkShape(key, size, walks[i] as CrackWalk, say);
    checkDepth(input, key, size, say);
    checkCrack(input, key, size, walks[i] as CrackWalk, say);
    checkPlace(input, key, size, say);
    for (const { rule, asked, ring, crack } of hindrances) {
      if (crack?.(key)) continue;
      if (near(key.outline, ring, asked) && overlaps(grown(ring, asked - WITHIN), key.outline))
        say(rule, `Less than ${asked} mm of wood to what the rule "${rule}" keeps it off.`);
    }
    for (const [k, other] of keys.slice(0, i).entries())
      checkPair(input, [key, other], [walks[i], walks[k]] as [CrackWalk, CrackWalk], say);
  });
  return [...faults, ...unsaidGaps(input, keys, walks, refused)];
}

type Say = (rule: string, message: string) => void;

/** The line that a key stands on. */
function lineOf({ cracks }: KeysInput, { crack, face }: Key): WideLine {
  const { line, far } = cracks[crack] as KeysInput['cracks'][number];
  return face === 'bottom' && far ? far : line;
}

/** Whether two rings' boxes are nearer than so much. */
function near(a: Polygon<'top'>, b: Polygon<'top'>, by: number): boolean {
  const [p, q] = [bounds(a), bounds(b)];
  return p.minX < q.maxX + by && q.minX < p.maxX + by && p.minY < q.maxY + by && q.minY < p.maxY + by;
}

/** The outline is the size's bow tie about the key's place and angle; waist on the crack, length square to the crack's chord over the key's width. */
function checkShape(key: Key, size: KeySize, walk: CrackWalk, say: Say): void {
  const t = (key.angle * Math.PI) / 180;
  const [l, e, w] = [size.length / 2, size.end / 2, size.waist / 2];
  const corners = [
    [l, e],
    [l, -e],
    [-l, e],
    [-l, -e],
    [0, w],
    [0, -w],
  ] as const;
  const off = corners.map(([x, y]) => {
    const [px, py] = [key.at[0] + x * Math.cos(t) - y * Math.sin(t), key.at[1] + x * Math.sin(t) + y * Math.cos(t)];
    return Math.min(...key.outline.map(([qx, qy]) => Math.hypot(px - qx, py - qy)));
  });
  if (key.outline.length !== 6 || Math.max(...off) > WITHIN) say('shape', 'Its outline is not that of its size.');
  if (walk.off > WITHIN) say('waist', `Its waist stands ${walk.off.toFixed(2)} mm off the crack.`);
  const chord = walk.chord(size.end / 2);
  const apart = Math.abs(Math.cos(t) * chord[0] + Math.sin(t) * chord[1]) / Math.hypot(...chord);
  if (apart > Math.sin((WITHIN * Math.PI) / 180)) say('square', 'It does not stand square to its crack.');
}

function checkDepth({ top, rules, cracks }: KeysInput, key: Key, size: KeySize, say: Say): void {
  const { least, most, floor } = rules.depth;
  if (!size.depths.includes(key.depth)) say('depth', `Its size has no depth of ${key.depth} mm.`);
  if (key.depth < least * top.thickness - WITHIN) say('depth', 'Its pocket is shallower than the rule asks.');
  if (key.depth > most * top.thickness + WITHIN) say('depth', 'Its pocket is deeper than the rule allows.');
  const pockets = cracks[key.crack]?.faces === 'both' ? 2 : 1;
  if (top.thickness - pockets * key.depth < floor - WITHIN) say('floor', 'Too little wood is left under its pocket.');
}

function checkCrack({ cracks, rules, top }: KeysInput, key: Key, size: KeySize, walk: CrackWalk, say: Say): void {
  const wide = rules.mixed ? walk.widest(size.end / 2) : walk.widest(Infinity);
  if (size.length < rules.width * wide - rules.width * WITHIN) say('width', 'The crack is too wide for it.');
  if (rules.longest !== undefined && size.length > rules.longest + WITHIN)
    say('longest', 'It is longer than the rule allows.');
  const grain = cracks[key.crack]?.grain ?? top.grain;
  if (grain !== undefined) {
    const apart = Math.abs(key.angle - grain) % 180;
    if (Math.min(apart, 180 - apart) < rules.turn - WITHIN) say('turn', "Its grain lies too near to the slab's.");
  }
  // A crack too short for the rule has a key in its middle.
  const asked = Math.min(rules.tip * size.length, (walk.before + walk.after) / 2);
  if (Math.min(walk.before, walk.after) < asked - WITHIN) say('tip', 'It stands too near to a tip of its crack.');
}

function checkPlace({ top, rules }: KeysInput, key: Key, size: KeySize, say: Say): void {
  const kept = rules.edge > WITHIN ? offset([region(top.outline)], WITHIN - rules.edge) : [region(top.outline)];
  if (regionsArea(difference([region(key.outline)], kept)) > CRUMB)
    say('edge', 'It stands too near to the edge of the top.');
  const [own, whole] = [bounds(key.outline), bounds(top.outline)];
  const end = Math.min(own.minX - whole.minX, whole.maxX - own.maxX);
  if (end < rules.end * size.length - WITHIN) say('end', 'It stands too near to an end of the top.');
}

interface Hindrance {
  readonly rule: string;
  readonly asked: number;
  readonly ring: Polygon<'top'>;
  /** Whether it is no hindrance to a key, being its own crack. */
  readonly crack?: (key: Key) => boolean;
}

/** What keys keep off, with how far. */
function hindrancesOf(input: KeysInput): Hindrance[] {
  const { rules, defects, avoid, keepOff, cracks } = input;
  const named: Readonly<Record<string, number | undefined>> = {
    knot: rules.knot,
    void: rules.void,
    rot: rules.void,
    'bark inclusion': rules.void,
    seam: rules.seam,
    'cut-out': rules.cutOut,
    hardware: rules.hardware,
    crack: rules.crack,
    shake: rules.crack,
  };
  const asked = (kind: string): number => named[kind] ?? rules.clear;
  const own = (line: WideLine) => (key: Key) =>
    alike(line, lineOf(input, key)) || alike(line, cracks[key.crack]?.line ?? []);
  const seamOf = (ring: Polygon<'top'>) => (key: Key) => {
    const crack = cracks[key.crack];
    return (
      crack?.kind === 'seam' &&
      overlaps(grown(ribbon<'top'>(crack.line, 1), 0.01), ring.length > 2 ? (grown(ring, 0.5)[0]?.outer ?? ring) : ring)
    );
  };
  return [
    ...defects.flatMap(({ kind, polygon, line, permit }): Hindrance[] => {
      if (permit === 'allow' || kind === 'stain') return [];
      const broken = kind === 'crack' || kind === 'shake';
      return [
        ...(polygon && !broken ? [{ rule: kind, asked: asked(kind), ring: polygon }] : []),
        ...(line
          ? [{ rule: kind, asked: asked(kind), ring: ribbon<'top'>(line), ...(broken ? { crack: own(line) } : {}) }]
          : []),
      ];
    }),
    ...avoid.map((ring): Hindrance => ({ rule: 'clear', asked: rules.clear, ring })),
    ...keepOff.map(
      ({ kind, polygon }): Hindrance => ({
        rule: kind,
        asked: asked(kind),
        ring: polygon,
        ...(kind === 'seam' ? { crack: seamOf(polygon) } : {}),
      }),
    ),
    ...cracks.map(
      ({ line, kind }, i): Hindrance => ({
        rule: kind,
        asked: asked(kind),
        ring: ribbon<'top'>(line),
        crack: (key) => key.crack === i || own(line)(key),
      }),
    ),
  ];
}

/** Whether a line is another traced again: all of it lies within 10 mm of it. */
function alike(line: WideLine, other: WideLine): boolean {
  if (other.length < 2) return false;
  const about = other.slice(1).flatMap((q, i) => offset([region(bar(other[i] as WideLine[0], q))], 10 + WITHIN / 10));
  return line.every(([x, y]) => about.some(({ outer }) => contains(outer, [x, y])));
}

/** A straight piece of a line as a sliver of 0.02 mm. */
function bar([ax, ay]: WideLine[0], [bx, by]: WideLine[0]): Polygon<'top'> {
  return ribbon([
    [ax, ay, 0.02],
    [bx, by, 0.02],
  ]);
}

function checkPair(
  input: KeysInput,
  [a, b]: readonly [Key, Key],
  [p, q]: readonly [CrackWalk, CrackWalk],
  say: Say,
): void {
  const { rules, top, sizes } = input;
  const asked = rules.key ?? rules.clear;
  const meet = near(a.outline, b.outline, asked) && overlaps(grown(b.outline, asked - WITHIN), a.outline);
  if (a.face === b.face && meet) say('key', 'It stands too near to another key.');
  if (
    a.face !== b.face &&
    meet &&
    overlaps([region(b.outline)], a.outline) &&
    a.depth + b.depth + rules.depth.floor > top.thickness + WITHIN
  )
    say('floor', 'Too little wood is left between it and a pocket in the other face.');
  if (a.crack !== b.crack || a.face !== b.face || a.part !== b.part) return;
  const length = (id: string) => sizes.find((size) => size.id === id)?.length ?? 0;
  const least = (rules.leastSpacing * (length(a.size) + length(b.size))) / 2;
  if (Math.abs(p.before - q.before) < least - WITHIN)
    say('leastSpacing', 'It stands too near to the next key of its crack.');
}

/** Gaps between neighbours that are wider than the rule allows and of which nothing is said. */
function unsaidGaps(
  { rules, sizes }: KeysInput,
  keys: readonly Key[],
  walks: readonly CrackWalk[],
  refused: KeysOutput['refused'],
): KeyFault[] {
  const length = (i: number) => sizes.find(({ id }) => id === keys[i]?.size)?.length ?? 0;
  return keys.flatMap(({ crack, face, part }, i) => {
    const at = walks[i]?.before ?? 0;
    const row = keys.flatMap((key, k) => (key.crack === crack && key.face === face && key.part === part ? [k] : []));
    const next = row
      .filter((k) => (walks[k]?.before ?? 0) > at)
      .sort((a, b) => (walks[a]?.before ?? 0) - (walks[b]?.before ?? 0))[0];
    if (next === undefined) return [];
    const gap = (walks[next]?.before ?? 0) - at;
    const most = (rules.spacing * (length(i) + length(next))) / 2;
    const said = refused.some((each) => each.crack === crack) || rules.rhythm === 'mirrored';
    return gap <= most + WITHIN || said
      ? []
      : [
          {
            key: null,
            rule: 'spacing',
            message: `Between two keys of crack ${crack + 1} lie ${gap.toFixed(1)} mm, and nothing says why.`,
          },
        ];
  });
}
