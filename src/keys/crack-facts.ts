import { bounds, distanceToRing, type Point, type Polygon, segmentsCross, type WideLine } from '../geometry';
import { MOISTURE_APART, movement } from '../wood';
import { type CrackPart, insideParts, measured } from './crack-line';
import { type Held, holdOf } from './hold';
import type { CrackFacts, Key, KeysInput } from './io';
import { type Say, sayIn, sayRoughly } from './say';

type Crack = KeysInput['cracks'][number];

/** A part of a crack inside the top, on the face that its keys are let into. */
export interface FacePart {
  readonly part: CrackPart;
  /** The faces that get a key at each of its places. */
  readonly faces: readonly Key['face'][];
}

/** The parts of a crack that are keyed: those of its line, and those of its line on the far face where that is known. */
export function facePartsOf({ line, far, faces }: Crack, outline: Polygon<'top'>): FacePart[] {
  const parts = (of: WideLine, let_: readonly Key['face'][]) =>
    insideParts(of, outline).map((part) => ({ part, faces: let_ }));
  if (faces === 'top') return parts(line, ['top']);
  return far ? [...parts(line, ['top']), ...parts(far, ['bottom'])] : parts(line, ['top', 'bottom']);
}

/** How deep a crack goes, as far as it is known. */
export const depthOf = ({ depth, faces }: Crack): CrackFacts['depth'] =>
  depth ?? (faces === 'both' ? 'through' : 'unknown');

/** Nearer than this to the top's edge, mm, a crack ends in it and has no tip there. */
const AT_EDGE = 0.5;

/** Whether a crack that ends in a place runs out of the top there. */
export const runsOut = (end: Point<'top'>, outline: Polygon<'top'>): boolean => distanceToRing(end, outline) < AT_EDGE;

/** What there is to know of each crack before it is keyed, and what its keys hold. @throws InputProblem for an unknown species */
export function crackFacts(input: KeysInput, keys: readonly Pick<Key, 'crack' | 'size' | 'depth'>[]): CrackFacts[] {
  return input.cracks.map((crack, index) => {
    const parts = facePartsOf(crack, input.top.outline).map(({ part, faces }) => ({
      face: faces[0] as Key['face'],
      length: part.length,
      widest: part.widest,
      tips: [tipOf(part, 0, input), tipOf(part, part.length, input)] as [Tip, Tip],
    }));
    const held = heldOf(
      input,
      keys.filter((key) => key.crack === index),
    );
    const { note: _, ...hold } = holdOf(held, input.species, input.keySpecies, brokenArea(input, [index]));
    const opens = opening(input, index, parts);
    return { crack: index, parts, depth: depthOf(crack), opens, hold, notes: notesOf(input, index, parts) };
  });
}

type Tip = CrackFacts['parts'][number]['tips'][number];

function tipOf(part: CrackPart, s: number, { top }: KeysInput): Tip {
  const at = part.at(s);
  return { at, open: runsOut(at, top.outline) };
}

/** The keys that hold a crack; those over a seam are a decoration. */
export function heldOf({ sizes, cracks }: KeysInput, keys: readonly Pick<Key, 'crack' | 'size' | 'depth'>[]): Held[] {
  return keys.flatMap(({ crack, size: id, depth }) => {
    const size = sizes.find((each) => each.id === id);
    return size && cracks[crack]?.kind !== 'seam' ? [{ size, depth }] : [];
  });
}

/** mm2 of wood that cracks have parted, as if each that is not known to stay at the surface went through. */
export function brokenArea({ cracks, top }: KeysInput, which = cracks.map((_, i) => i)): number {
  return which.reduce((sum, i) => {
    const crack = cracks[i] as Crack;
    if (crack.kind === 'seam' || depthOf(crack) === 'surface') return sum;
    return insideParts(crack.line, top.outline).reduce((area, { length }) => area + length * top.thickness, sum);
  }, 0);
}

/** Mouth of a crack that runs out at an edge against the middle of one within a plate, for one length of crack: 2 x 1.454 (Tada and others' handbook of stress analysis of cracks; from memory). */
const EDGE_CRACK = 2.908;

/**
 * How far a crack would open without keys on the way to the site, at the driest of the year. The strain that shrinking cannot free itself of lies between
 * the difference of tangential and radial (a free slab) and all of the tangential (one held all round), and a crack of length l in a plate under it opens by 2 l strain in its middle
 * (Westergaard: 4 sigma a / E, a = l/2), or 5.8 l strain at the mouth of one that runs out. Wood is no such plate: this compares.
 */
function opening(
  { species, moisture, cracks }: KeysInput,
  index: number,
  parts: CrackFacts['parts'],
): CrackFacts['opens'] {
  const [part] = parts;
  if (!moisture || !part || cracks[index]?.kind === 'seam' || part.tips.every(({ open }) => open)) return null;
  const to = Math.max(0, moisture.site - moisture.swing);
  const asked = { species, width: 1, from: moisture.now, to };
  const flat = movement({ ...asked, cut: 'flat' });
  const quarter = movement({ ...asked, cut: 'quarter' });
  const factor = 2 * (part.tips.some(({ open }) => open) ? EDGE_CRACK : 1) * part.length;
  const [free, fast] = [-(flat.change - quarter.change) * factor, -flat.change * factor];
  return { least: Math.min(free, fast), most: Math.max(free, fast), source: flat.source };
}

function notesOf({ cracks, moisture, top, units }: KeysInput, index: number, parts: CrackFacts['parts']): string[] {
  const crack = cracks[index] as Crack;
  if (parts.length === 0) return [];
  return [
    ...tracedNotes(crack, top.outline, parts, sayRoughly(units)),
    ...(crack.kind === 'seam' ? [] : [...crossingNotes(cracks, index), ...crackNotes(crack, moisture, parts)]),
  ];
}

/** What is odd in how a line was traced: it leaves the top, is longer than that, or crosses itself. */
function tracedNotes({ line, kind }: Crack, outline: Polygon<'top'>, parts: CrackFacts['parts'], say: Say): string[] {
  const { length } = measured(line);
  const box = bounds(outline);
  const across = Math.hypot(box.maxX - box.minX, box.maxY - box.minY);
  const inside = parts.filter(({ face }) => face === 'top').reduce((sum, part) => sum + part.length, 0);
  const what = kind === 'seam' ? 'seam' : 'crack';
  return [
    ...(length > across
      ? [
          `The ${what} as it was traced is ${say(length)} long, more than the top is from corner to corner (${say(across)}): look whether it was traced right.`,
        ]
      : []),
    ...(inside < length - AT_EDGE
      ? [`The ${what} leaves the top: ${say(inside)} of its ${say(length)} lie inside and are keyed.`]
      : []),
    ...(line.some((_, i) => line.slice(i + 2).some((__, k) => meeting(line, i, line, i + 2 + k)))
      ? [
          `The ${what} as it was traced crosses itself: where it does, keys that would lie in each other's way are left out.`,
        ]
      : []),
  ];
}

/** Where other cracks cross this one. */
function crossingNotes(cracks: KeysInput['cracks'], index: number): string[] {
  const { line } = cracks[index] as Crack;
  return cracks.flatMap(({ line: other, kind }, i) => {
    const crossed =
      i !== index && kind !== 'seam' && line.some((_, a) => other.some((__, b) => meeting(line, a, other, b)));
    return crossed
      ? [
          `It crosses crack ${i + 1}: its keys keep off that one, so the pieces between the two want glue or resin besides.`,
        ]
      : [];
  });
}

/** Whether piece `i` of one line and piece `k` of another cross. */
function meeting(one: WideLine, i: number, other: WideLine, k: number): boolean {
  const [a, b, c, d] = [one[i], one[i + 1], other[k], other[k + 1]];
  if (!a || !b || !c || !d) return false;
  return segmentsCross<'top'>(
    [
      [a[0], a[1]],
      [b[0], b[1]],
    ],
    [
      [c[0], c[1]],
      [d[0], d[1]],
    ],
  );
}

function crackNotes(crack: Crack, moisture: KeysInput['moisture'], parts: CrackFacts['parts']): string[] {
  const rightThrough = parts.some(({ tips }) => tips.every(({ open }) => open));
  const apart = moisture ? Math.abs(moisture.now - moisture.site) : 0;
  return [
    ...(depthOf(crack) === 'unknown'
      ? [
          'Whether it goes through is not known: look at the far face, or feel with a thin wire, before a pocket is cut.',
        ]
      : []),
    ...(depthOf(crack) === 'through' && crack.faces === 'top'
      ? ['It goes through, but its line on the far face is not known: keys are let into the top face alone.']
      : []),
    ...(rightThrough
      ? ['It runs out at both ends: the top is in two pieces there, which keys alone do not join.']
      : []),
    ...(apart > MOISTURE_APART ? ['It still moves: the wood has not come to the moisture of the site.'] : []),
  ];
}

/** What is to be known of the layout as a whole. */
export function layoutNotes({ moisture, cracks, units }: KeysInput, keys: readonly Pick<Key, 'under'>[]): string[] {
  if (cracks.length === 0) return [];
  const apart = moisture && Math.abs(moisture.now - moisture.site);
  const least = Math.min(...keys.map(({ under }) => under));
  return [
    'Keys hold a crack; they do not stop drying.',
    ...(keys.length > 0
      ? [
          `Keys are let in after flattening: depths count from the finished faces, and leave at least ${sayIn(units)(least)} of wood.`,
        ]
      : []),
    ...(apart !== undefined && apart !== null && apart > 1
      ? [
          `The wood is at ${round(moisture?.now as number)} % and the site at ${round(moisture?.site as number)} %: keys are fitted within 1 to 2 %${apart > MOISTURE_APART ? ', so let it come nearer first' : ''} (practice).`,
        ]
      : []),
  ];
}

const round = (x: number): number => Math.round(x * 10) / 10;
