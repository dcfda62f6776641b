import type { Polygon } from '../../src/geometry';
import { type Defect, type Placement, type Plan, readJobFile, writeJobFile } from '../../src/job';
import { drawnJobFile } from './drawn-job';

/** A job whose one top is laid out already, on a slab with two cracks and a knot beside one of them: the Keys stage opens at once. Invented. */

/** Where the top lies on its slab, mm. */
const [X0, X1, Y0, Y1] = [50, 1050, 40, 380];
const rectangle = (by: number): Polygon<'face'> => [
  [X0 - by, Y0 - by],
  [X1 + by, Y0 - by],
  [X1 + by, Y1 + by],
  [X0 - by, Y1 + by],
];

const round = (x: number, y: number, radius: number): Polygon<'face'> =>
  Array.from({ length: 16 }, (_, i) => {
    const turn = (2 * Math.PI * i) / 16;
    return [x + radius * Math.cos(turn), y + radius * Math.sin(turn)] as const;
  });

const DEFECTS: readonly Defect[] = [
  {
    id: 'd1',
    kind: 'crack',
    line: [
      [180, 170, 1],
      [380, 184, 4],
      [560, 178, 6],
      [800, 196, 1],
    ],
    permit: 'keyed',
  },
  {
    id: 'd2',
    kind: 'crack',
    line: [
      [700, 290, 1],
      [860, 296, 3],
      [960, 288, 1],
    ],
    confidence: 0.6,
    permit: 'keyed',
  },
  { id: 'd3', kind: 'knot', polygon: round(505, 232, 18), permit: 'avoid' },
];

/** Length of the first crack along its line, and the places of its tips from the top's left end, mm. */
export const FIRST_CRACK = {
  length: Math.hypot(200, 14) + Math.hypot(180, 6) + Math.hypot(240, 18),
  fromLeft: [X1 - 800, X1 - 180],
} as const;

/** The job file's bytes. @param moisture of the slab, % */
export async function keyedJobFile(moisture = 8.5): Promise<Buffer> {
  const size = { name: 'Desk', length: X1 - X0, depth: [Y1 - Y0, Y1 - Y0] as [number, number], thickness: 38 };
  const file = await readJobFile(
    new Uint8Array(await drawnJobFile([90], { ...size, front: 'straight', seams: 0, leastStrip: 100 })),
  );
  const slab = file.job.flitches.log!.slabs['slab-1']!;
  slab.moisture = moisture;
  slab.faces.top.defects = Object.fromEntries(DEFECTS.map((defect) => [defect.id, defect]));
  const placement: Placement = {
    top: 'top-1',
    strips: [
      {
        flitch: 'log',
        slab: 'slab-1',
        face: 'top',
        toTop: [1, 0, 0, 1, -X0, -Y0],
        finished: rectangle(0),
        rough: rectangle(10),
        jointFront: null,
        jointBack: null,
      },
    ],
    joints: [],
    depth: [Y1 - Y0, Y1 - Y0],
    thickness: 38,
  };
  const plan: Plan = {
    id: 'plan-1',
    name: 'Plan 1',
    placements: { 'top-1': placement },
    misses: [],
    waste: 0.2,
    cost: null,
    gap: 0,
  };
  file.job.plans = { [plan.id]: plan };
  file.job.keptPlan = plan.id;
  return Buffer.from(await writeJobFile(file));
}
