import { finishedThickness, thicknessOfBlank } from '../flattening';
import { applyAll, type Region } from '../geometry';
import type { Face, FaceName, Flitch, Job, Slab } from '../job';
import { flatteningShop, fromFarFace, type LeftOver, offcutsOf } from '../layout';
import type { SlabReport } from './report';
import type { SlabSurfaces } from './slab-surfaces';

/** Way of the grain against the slab's x, degrees, by the lines drawn along it, the longer the more they count; along the slab where there are none. */
export function grainOf({ grainLines }: Pick<Face, 'grainLines'>): number {
  const ways = grainLines.flatMap((line) => {
    const [a, b] = [line[0], line.at(-1)];
    if (!a || !b) return [];
    // Either way along a line is the same grain.
    const sign = b[0] < a[0] ? -1 : 1;
    return [[sign * (b[0] - a[0]), sign * (b[1] - a[1])] as const];
  });
  const [x, y] = ways.reduce(([sx, sy], [dx, dy]) => [sx + dx, sy + dy] as const, [0, 0] as const);
  return x === 0 ? 0 : (Math.atan2(y, x) * 180) / Math.PI;
}

/**
 * What is left of a slab and worth keeping, each clear piece with the thickness that it would give: flattened by itself, it loses less to the slab's
 * warp than the slab would.
 * @param forbidden what no piece may hold
 */
export function offcutReports(
  job: Job,
  { flitch, slab, face }: { readonly flitch: Flitch; readonly slab: Slab; readonly face: FaceName },
  left: LeftOver,
  forbidden: readonly Region<'face'>[],
  surfaces: SlabSurfaces,
): SlabReport['offcuts'] {
  const faces = surfaces(slab);
  const toReadings = face === 'top' ? { m: [1, 0, 0, 1, 0, 0] as const } : slab.tie && fromFarFace(slab.tie);
  const shop = flatteningShop(flitch, slab, job.shop);
  return offcutsOf(left, forbidden, job.shop.kerf.rip, grainOf(slab.faces[face])).map(({ polygon, area, pieces }) => ({
    polygon,
    area,
    pieces: pieces.map((piece) => {
      if (!faces || !toReadings) return { ...piece, thickness: null };
      const { thickest } = thicknessOfBlank(faces, applyAll(toReadings, piece.polygon));
      return { ...piece, thickness: { flat: thickest, finished: finishedThickness(thickest, shop) } };
    }),
  }));
}
