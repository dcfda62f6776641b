import { aboutCrack, obstaclesOf, sameCrack } from './clearance';
import { refuseBadCracks } from './crack-check';
import { brokenArea, crackFacts, heldOf, layoutNotes } from './crack-facts';
import { holdOf } from './hold';
import type { Key, KeysInput, KeysOutput } from './io';
import { missing } from './place-reasons';
import { keyedInTurn, type Standing, standing } from './search-cracks';
import { canMirror, mirroredPairs } from './search-mirror';
import { type Keyed, type Rail, railsOf, type Stretch, stretchOf } from './search-stretch';
import { keyOutline, keyPocket, keyTemplate, type Pose } from './shape';
import type { Fit } from './size';

/** Degrees over -90 to 90, which is all that a key's two-ended length can have. */
function degrees(turn: number): number {
  const angle = ((turn * 180) / Math.PI) % 180;
  return angle > 90 + 1e-9 ? angle - 180 : angle <= -90 + 1e-9 ? angle + 180 : angle;
}

/**
 * Butterfly keys along the cracks of a top (COMMANDS `keys`): square to the crack where they stand, in the rhythm that the rules name, of one size a
 * crack or of sizes mixed, their depth from the finished thickness, clear of edges, ends, defects, other cracks, what else is to be kept
 * clear of, and each other. The best row of each crack is found exactly (`search-row`); cracks whose keys are in each other's way are keyed in
 * turns (`search-cracks`), seams that are decorated after them. What the
 * rules do not allow is refused with its reason and the nearest place that would do. A crack that runs out of the top is keyed as far as it lies
 * inside; one on both faces gets a key from each face at the same places, or along its own line there where that is known.
 * @param input already checked against `keysInput`
 * @throws InputProblem for an unknown species, an outline without area, or a crack that cannot be
 */
export function placeKeys(input: KeysInput): KeysOutput {
  refuseBadCracks(input);
  holdOf([], input.species, input.keySpecies);
  const refused: KeysOutput['refused'] = [];
  const obstacles = obstaclesOf(input);
  const rails = input.cracks.flatMap((_, index) => {
    const twin = input.cracks.findIndex((_, i) => tracedAgain(input, index, i));
    if (twin >= 0) {
      refused.push({ crack: index, reason: `It is crack ${twin + 1} traced again, whose keys hold it.` });
      return [];
    }
    const found = railsOf(input, index, aboutCrack(input, index, obstacles));
    if (found.length === 0) refused.push({ crack: index, reason: 'The crack lies outside the top.' });
    return found;
  });
  const pairs =
    input.rules.rhythm === 'mirrored' && canMirror(input)
      ? mirroredPairs(rails, input)
      : rails.map((rail): [Rail] => [rail]);
  const stretches = pairs.map((pair) => stretchOf(pair, input));
  const rows = keyedInTurn(stretches, input);
  stretches.forEach((stretch, i) => {
    const others = stretches.flatMap((other, k): Standing[] => (k === i ? [] : [[other, rows[k] ?? null]]));
    refused.push(...missing(stretch, rows[i] ?? null, input, standing(stretch, others, input)));
  });
  return layoutOf(input, inOrder(stretches.flatMap((stretch, i) => keysOf(stretch, rows[i] ?? null, input))), refused);
}

/** Whether a crack lies all along another: of two traced alike the later, else the one that is but a part. */
function tracedAgain({ cracks }: KeysInput, index: number, of: number): boolean {
  const [own, other] = [cracks[index], cracks[of]] as [KeysInput['cracks'][number], KeysInput['cracks'][number]];
  if (index === of || own.kind !== other.kind || !sameCrack(own.line, other.line)) return false;
  return of < index || !sameCrack(other.line, own.line);
}

function keysOf(stretch: Stretch, row: Keyed | null, input: KeysInput): Key[] {
  return (row?.keys ?? []).flatMap(({ s, size, poses }) =>
    stretch.rails.flatMap(({ crack, index, faces, along }, i) => {
      const twin = input.cracks[crack]?.faces === 'both';
      return faces.map((face) =>
        keyOf({ crack, part: index, along: along(s), face, twin }, poses[i] as Pose, stretch.fits[size] as Fit, input),
      );
    }),
  );
}

/** Crack by crack, the top face first, along each. */
const inOrder = (keys: readonly Key[]): Key[] =>
  [...keys].sort((a, b) => a.crack - b.crack || a.part - b.part || b.face.localeCompare(a.face) || a.along - b.along);

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
