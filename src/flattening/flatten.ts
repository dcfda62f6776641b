import { READING_SIGMA } from '../job';
import { type Faces, linearSurface, type Reading, type Spot3, smoothFaces, warpFaces } from '../surface';
import { InputProblem } from '../units';
import { flattenBlank } from './blank';
import { checkFlattening, checkReach } from './check';
import type { FlattenInput, FlattenOutput } from './io';
import { boardOver } from './thickness';

/**
 * The `flatten` command: every blank, and the slab flattened whole.
 * @param input as the schema has passed it
 * @throws InputProblem with the JSON pointer of what is at fault
 */
export function flatten(input: FlattenInput): FlattenOutput {
  checkFlattening(input);
  const faces = facesOf(input);
  const { sled, sanding, reserve, drying } = input;
  const blanks = input.blanks.map((blank, i) => {
    checkReach(blank.polygon, faces, `/blanks/${i}/polygon`);
    const flat = flattenBlank(faces, blank, { sled, sanding, reserve, drying });
    if (flat.tooLow > 0)
      throw new InputProblem(
        `Blank "${blank.id}" ends ${flat.tooLow.toFixed(1)} mm below what the bit reaches down to over the bench.`,
        '/sled/lowest',
        `Lay it on a flat board at least ${Math.ceil(flat.tooLow)} mm thick and lower this figure by as much, or leave it thicker.`,
      );
    return flat;
  });
  const around = linearSurface([...withPlaces(faces)]).reach;
  return { blanks, whole: { thickest: boardOver(faces, { outer: around, holes: [] }).thickest } };
}

/** Readings, or the warp's corners, of both faces together: what they enclose is the slab. */
function* withPlaces(faces: Faces): Generator<Reading> {
  for (const face of [faces.top, faces.bottom]) {
    for (const at of face.reach) yield { at, z: 0, sigma: 0 };
  }
}

function facesOf({ surfaces, warp, interpolate }: FlattenInput): Faces {
  if (warp) return warpFaces(warp);
  const { top, bottom } = surfaces as NonNullable<typeof surfaces>;
  const readings = (spots: readonly Spot3[]): Reading[] =>
    spots.map(([x, y, z]) => ({ at: [x, y], z, sigma: READING_SIGMA }));
  if (interpolate === 'smooth') return smoothFaces(readings(top), readings(bottom));
  return { top: linearSurface(readings(top)), bottom: linearSurface(readings(bottom)) };
}
