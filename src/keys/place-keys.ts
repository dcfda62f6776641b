import { ringArea } from '../geometry';
import { formatLength, InputProblem } from '../units';
import { type Obstacle, objection, obstacle, obstaclesOf, otherCracks } from './clearance';
import { brokenArea, crackFacts, heldOf, layoutNotes } from './crack-facts';
import { type CrackPart, insideParts } from './crack-line';
import { holdOf } from './hold';
import type { Key, KeysInput, KeysOutput } from './io';
import { keyOutline, keyPocket, keyTemplate, type Pose } from './shape';
import { type Fit, fittingSizes } from './size';
import { type Spaced, spaced } from './spacing';

/** A row of keys that one size makes along one part of a crack. */
interface Row {
  readonly fit: Fit;
  readonly spaced: Spaced;
  readonly poses: readonly Pose[];
}

/** Degrees over -90 to 90, which is all that a key's two-ended length can have. */
function degrees(turn: number): number {
  const angle = ((turn * 180) / Math.PI) % 180;
  return angle > 90 + 1e-9 ? angle - 180 : angle <= -90 + 1e-9 ? angle + 180 : angle;
}

/**
 * Butterfly keys along the cracks of a top (COMMANDS `keys`): evenly spaced, square to the crack where they stand, one size to a crack,
 * their depth from the finished thickness, clear of edges, ends, defects, avoided areas, other cracks and each other. What the
 * rules do not allow is refused with its reason. A crack that runs out of the top is keyed as far as it lies inside.
 * Cracks are keyed in the order given; a crack on both faces gets a key from each face at the same places.
 * @param input already checked against `keysInput`
 * @throws InputProblem for an unknown species, an outline without area or a crack without length
 */
export function placeKeys(input: KeysInput): KeysOutput {
  if (ringArea(input.top.outline) <= 0)
    throw new InputProblem('The outline of the top has no area.', '/top/outline', 'Give its corners in order.');
  input.cracks.forEach(({ line }, i) => {
    const [[x, y]] = line as unknown as [[number, number]];
    if (line.every(([px, py]) => px === x && py === y))
      throw new InputProblem('The crack has no length.', `/cracks/${i}/line`, 'Give its two tips, or take it out.');
  });
  holdOf([], input.species, input.keySpecies);

  const keys: Key[] = [];
  const refused: { crack: number; reason: string }[] = [];
  const standing: Obstacle[] = obstaclesOf(input);
  input.cracks.forEach((crack, index) => {
    const refuse = (reason: string) => refused.push({ crack: index, reason });
    const parts = insideParts(crack.line, input.top.outline);
    if (parts.length === 0) refuse('The crack lies outside the top.');
    parts.forEach((part, partIndex) => {
      const both = crack.faces === 'both';
      const { fits, reason } = fittingSizes(
        input.sizes,
        { widest: part.widest, both },
        input.top.thickness,
        input.router,
        input.rules,
      );
      const row = bestRow(part, fits, [...standing, ...otherCracks(input, index)], input);
      if (row === null) {
        refuse(reason);
        return;
      }
      if (row.fit.size.end > part.length) {
        refuse(tooShort(part, row.fit));
        return;
      }
      row.spaced.missing.forEach(refuse);
      for (const face of both ? (['top', 'bottom'] as const) : (['top'] as const)) {
        row.poses.forEach((pose, i) => {
          const spot = { crack: index, part: partIndex, along: row.spaced.places[i] as number, face, twin: both };
          keys.push(keyOf(spot, pose, row.fit, input));
        });
      }
      standing.push(...row.poses.map((pose) => obstacle('another key', keyOutline(row.fit.size, pose))));
    });
  });
  return layoutOf(input, keys, refused);
}

/** Keys with what they hold and what is to be known of them. */
export function layoutOf(input: KeysInput, keys: Key[], refused: KeysOutput['refused']): KeysOutput {
  return {
    keys,
    hold: holdOf(heldOf(input, keys), input.species, input.keySpecies, brokenArea(input)),
    refused,
    cracks: crackFacts(input, keys),
    notes: layoutNotes(input, keys),
  };
}

const tooShort = (part: CrackPart, { size }: Fit): string => {
  const mm = (x: number) => formatLength(x, 'mm', { unit: true, as: 'typed' });
  return `The crack is ${mm(part.length)} long, shorter than a key of size "${size.id}" is wide (${mm(size.end)}); fill it.`;
};

/** The row of the first size that keeps every rule; if none does, the row of the first size of all. Null when no size suits. */
function bestRow(
  part: CrackPart,
  fits: readonly Fit[],
  obstacles: readonly Obstacle[],
  { top, rules }: KeysInput,
): Row | null {
  let first: Row | null = null;
  for (const fit of fits) {
    const pose = (s: number): Pose => ({
      at: part.at(s),
      turn: part.direction(s, fit.size.end / 2) + Math.PI / 2,
    });
    const row = spaced(part.length, fit.size.length, rules, (s) =>
      objection(keyOutline(fit.size, pose(s)), fit.size, top.outline, obstacles, rules),
    );
    const made = { fit, spaced: row, poses: row.places.map(pose) };
    if (row.missing.length === 0) return made;
    first ??= made;
  }
  return first;
}

/** Where a key stands: on which part of which crack, how far along it, in which face. */
export interface Spot {
  readonly crack: number;
  readonly part: number;
  readonly along: number;
  readonly face: Key['face'];
  /** Whether another pocket lies back to back with its own. */
  readonly twin: boolean;
}

/** A key as it is given out, laid at its pose. */
export function keyOf({ twin, ...spot }: Spot, pose: Pose, { size, depth }: Fit, { router, top }: KeysInput): Key {
  return {
    ...spot,
    at: pose.at,
    angle: degrees(pose.turn),
    size: size.id,
    depth,
    under: top.thickness - (twin ? 2 : 1) * depth,
    outline: keyOutline(size, pose),
    pocket: keyPocket(size, pose, router?.bit),
    template: router ? keyTemplate(size, pose, router) : null,
  };
}
