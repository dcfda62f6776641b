import { readFileSync } from 'node:fs';
import { loadTypeface, type SheetRequest, type Typeface } from '../../src/cutmap';
import { bounds, difference, intersection, type Point, type Polygon, rectangle, regionArea } from '../../src/geometry';
import { DEFECT_KINDS, type Defect, defaultTop, emptyFlitch, emptyJob, emptySlab, type Job } from '../../src/job';
import {
  type BlankReport,
  boardReports,
  keyWork,
  type PlanReport,
  type SlabReport,
  setReport,
  type TopReport,
} from '../../src/plan';
import { seededRandom } from '../../src/search';
import { dryingOf, fixingOf, glueUp } from '../../src/wood';
import { bowtie, INVENTED_BLANKS, INVENTED_HOLD, inventedKey } from './invented-keys';
import { withSet } from './invented-sets';

/** Invented plans for the tests of the sheets: any number of different slabs, strips, defects, keys and cuts, of one seed each. */

const fonts = 'node_modules/dejavu-fonts-ttf/ttf';
const bytes = (name: string): Uint8Array => new Uint8Array(readFileSync(`${fonts}/${name}`));
let known: Promise<Typeface> | undefined;
export const typeface = (): Promise<Typeface> => {
  known ??= loadTypeface(bytes('DejaVuSansCondensed.ttf'), bytes('DejaVuSansCondensed-Bold.ttf'));
  return known;
};

type Random = () => number;
const between = (random: Random, least: number, most: number): number => least + (most - least) * random();

function wavyOutline(random: Random, length: number, width: number): Polygon<'face'> {
  const waves = Array.from(
    { length: 4 },
    () => [between(random, 5, 18), between(random, 300, 1200), random() * 6] as const,
  );
  const wave = (x: number, k: number): number =>
    waves.reduce(
      (sum, [height, period, phase], i) => (i % 2 === k ? sum + height * Math.sin((x / period) * 6.28 + phase) : sum),
      0,
    );
  const upper: Point<'face'>[] = [];
  const lower: Point<'face'>[] = [];
  for (let x = 0; x <= length; x += 25) {
    upper.push([x + between(random, 0, 2), -width / 2 + wave(x, 0)]);
    lower.push([x + between(random, 0, 2), width / 2 + wave(x, 1)]);
  }
  return [...upper, ...lower.reverse()];
}

function defectsOf(random: Random, length: number, width: number): Defect[] {
  return Array.from({ length: Math.floor(between(random, 0, 9)) }, (_, i): Defect => {
    const kind = DEFECT_KINDS[Math.floor(random() * DEFECT_KINDS.length)] as Defect['kind'];
    const [x, y, r] = [
      between(random, 40, length - 300),
      between(random, -width / 2 + 40, width / 2 - 40),
      between(random, 8, 45),
    ];
    const permit = (['avoid', 'keyed', 'allow'] as const)[i % 3] as Defect['permit'];
    if (kind === 'crack' || kind === 'shake') {
      return {
        id: `d${i}`,
        kind,
        permit,
        line: [0, 1, 2, 3].map((k) => [x + k * 70, y + between(random, -5, 5), k % 3 === 0 ? 0 : 3]),
      };
    }
    const polygon = Array.from(
      { length: 9 },
      (_, k): Point<'face'> => [
        x + r * Math.cos((k / 9) * 6.283) * between(random, 0.7, 1.4),
        y + r * Math.sin((k / 9) * 6.283) * between(random, 0.7, 1.2),
      ],
    );
    return { id: `d${i}`, kind, permit, polygon };
  });
}

const first = (ring: Polygon<'face'> | undefined): Polygon<'face'> => ring ?? [];

/** A slab from which one strip is cut, keeping the lower live edge; its joint line is straight along the slab. */
function slabOf(
  random: Random,
  place: number,
  top: TopReport['id'],
  topLength: number,
): { slab: SlabReport; depth: number } {
  const length = topLength + between(random, 150, 500);
  const width = between(random, 380, 640);
  const outer = wavyOutline(random, length, width);
  const outline = { outer, holes: [] };
  const left = between(random, 60, length - topLength - 80);
  const joint = between(random, -width / 2 + 90, 20);
  const piece = (x0: number, x1: number, y0: number): Polygon<'face'> =>
    first(intersection([outline], [{ outer: rectangle<'face'>(x0, y0, x1, 9999), holes: [] }])[0]?.outer);
  const finished = piece(left, left + topLength, joint);
  const rough = piece(left - 25, left + topLength + 25, joint - 10);
  const size = (ring: Polygon<'face'>): [number, number] => {
    const b = bounds(ring);
    return [b.maxX - b.minX, b.maxY - b.minY];
  };
  const cut = (number: number, kind: 'crosscut' | 'rip', a: Point<'face'>, b: Point<'face'>, reason: string) => ({
    number,
    kind,
    stage: 'rough' as const,
    line: [a, b] as const,
    kerf: 2.4,
    reason,
    blanks: [`${top}-${place}`],
  });
  const [x0, x1, y] = [left - 25, left + topLength + 25, joint - 10];
  const waste = difference([outline], [{ outer: rough, holes: [] }]).sort((p, q) => regionArea(q) - regionArea(p));
  const off = waste[0]?.outer ?? [];
  const stock = regionArea(outline);
  const parts = regionArea({ outer: finished, holes: [] });
  const blank: BlankReport = {
    id: `${top}-${place}`,
    top,
    topName: 'Counter',
    strip: place - 1,
    rough,
    finished,
    roughSize: size(rough),
    finishedSize: size(finished),
    jointFront:
      place === 1
        ? null
        : [
            [left, joint],
            [left + topLength, joint],
          ],
    jointBack:
      place === 1
        ? [
            [left, joint],
            [left + topLength, joint],
          ]
        : null,
    wanted: 38,
    cutFirst: { whole: 34.1, crosscut: 36.2, ripped: 37, both: 39.4, warp: { bow: 4.2, cup: -1.3, twist: 2.6 } },
    ruledBy: { name: 'Slab 2', finished: 38.2, loses: 1.2 },
    help: { length: 1900, skip: { face: 'top' as const, share: 0.02 }, slabs: [] },
    flattening: {
      id: `${top}-${place}`,
      thickest: 43.2,
      sigma: 0.3,
      plane: { a: 0, b: 0, c: 0 },
      finish: { under: { a: 0, b: 0, c: 2 }, upper: { a: 0, b: 0, c: 40 } },
      limits: [
        { at: [left + 200, joint + 60], face: 'top' },
        { at: [left + 900, joint + 90], face: 'bottom' },
      ],
      shims: [0, 1, 2, 3].map((k) => ({
        at: [left + (k % 2) * topLength, joint + (k > 1 ? 150 : 10)] as Point<'face'>,
        height: k * 1.7,
      })),
      faces: (['top', 'bottom'] as const).map((face) => ({
        face,
        passes: [
          { depth: 3, contact: 0.35 },
          { depth: 2.1, contact: 1 },
        ],
        strokes: 14,
        removed: 4.1,
        minutes: 38,
        tool: 'sled' as const,
        metres: 120,
        cutting: 70,
        chips: 20,
        load: { rate: 5600, rpm: 18000, perEdge: 0.125 },
      })),
      budget: [
        { item: 'rough', mm: 54 },
        { item: 'lost under', mm: 5.4 },
        { item: 'lost over', mm: 5.4 },
        { item: 'second', mm: 3 },
        { item: 'level', mm: 1 },
        { item: 'sanding', mm: 1 },
        { item: 'drying', mm: 0.2 },
        { item: 'finished', mm: 38 },
      ],
      tooLow: 0,
      accept: [],
      short: 0,
      beyond: 0.1,
    },
  };
  const slab: SlabReport = {
    flitch: 'log-7',
    slab: `slab-${place}`,
    name: `Slab ${place}`,
    face: 'top',
    outline,
    bark: null,
    grainDegrees: between(random, -4, 4),
    outlineSigma: between(random, 0.4, 1.5),
    pointSigma: [0, 1, 2].map((k) => ({ at: [(k * length) / 2, 0] as const, mm: 0.3 + 0.3 * k })),
    price: 295,
    weight: { kg: 44, least: 40, most: 49 },
    defects: defectsOf(random, length, width),
    farDefects: [],
    blanks: [blank],
    cuts: [
      cut(1, 'crosscut', [x0, -width / 2 - 40], [x0, width / 2 + 40], 'to rough length, 25 over'),
      cut(2, 'crosscut', [x1, -width / 2 - 40], [x1, width / 2 + 40], 'to rough length, 25 over'),
      cut(3, 'rip', [x0, y], [x1, y], '10 wide of the straight edge'),
      {
        number: 4,
        kind: 'joint',
        stage: 'fine',
        line: [
          [left, joint],
          [left + topLength, joint],
        ],
        kerf: 2.4,
        reason: 'the joint, on the flat blank',
        blanks: [blank.id],
      },
    ],
    keys: [0, 1, 2].map((k) => {
      const c: Point<'face'> = [left + 300 + k * 160, joint + 110];
      const outline = bowtie(c, 90, 50, 27);
      return { outline, pocket: outline, size: 'large', top, number: k + 1, proposed: k === 0 };
    }),
    offcuts: [{ polygon: off, area: 1, pieces: [{ polygon: off, size: [900, 80], degrees: 0, thickness: null }] }],
    areas: { stock, parts, kerf: 5000, offcuts: 0.1 * stock, waste: stock - parts - 5000 - 0.1 * stock },
    marks: null,
  };
  return { slab, depth: bounds(finished).maxY - joint };
}

/** A whole plan of two slabs for one top, from a seed. */
export function inventedReport(
  seed: number,
  units: 'mm' | 'in' = 'mm',
  name = 'North wall counter',
): { job: Job; report: PlanReport } {
  const random = seededRandom(seed).next;
  const length = Math.round(between(random, 1200, 2700));
  const made = [1, 2].map((place) => slabOf(random, place, 'counter', length));
  const slabs = made.map(({ slab }) => slab);
  const depth = made.reduce((sum, one) => sum + one.depth, 0);
  const job: Job = { ...emptyJob('north-wall', name, '2026-11-25'), units };
  const flitch = emptyFlitch('log-7', 'Log 7', 'walnut_black');
  job.flitches['log-7'] = {
    ...flitch,
    slabs: Object.fromEntries(
      slabs.map(({ slab }, i) => [slab, { ...emptySlab(slab, i + 1), thickness: 54, price: 295 }]),
    ),
  };
  job.tops.counter = { ...defaultTop('counter'), length };
  job.boards['board-1'] = {
    id: 'board-1',
    name: 'Door board',
    species: 'walnut_black',
    length: 1650,
    width: 210,
    thickness: 46,
    moisture: 8,
    price: 120,
    leaves: {},
  };
  const keyAt = [0, 1, 2, 3].map((k): Point<'top'> => [length * 0.5 + k * 150, depth * 0.55]);
  const top: TopReport = {
    id: 'counter',
    name: 'Counter',
    placement: { top: 'counter', strips: [], joints: [], depth: [depth - 30, depth], thickness: 39.4 },
    outline: rectangle(0, 0, length, depth),
    size: { length, depth: [depth - 30, depth], thickness: 38 },
    lines: {
      scribe: [],
      finishedDepth: null,
      holes: [{ name: 'Sink', polygon: rectangle(300, 100, 860, 400) }],
      angles: [{ side: 'left', at: [length, 0], degrees: 90 }],
    },
    seams: [
      {
        line: [
          [0, depth * 0.45],
          [length, depth * 0.45],
        ],
        blend: 0.34,
        lines: 0.5,
        word: 'disappears',
        before: false,
        ...{ made: null, ripped: null },
      },
    ],
    cracks: [
      {
        id: 'crack-1',
        mark: 'C1',
        short: 'a',
        called: 'a on Slab 1',
        seam: false,
        far: null,
        line: [
          [length * 0.45, depth * 0.55, 0],
          [length * 0.7, depth * 0.56, 4],
          [length * 0.8, depth * 0.55, 0],
        ],
        through: true,
        proposed: true,
      },
    ],
    keys: keyAt.map(inventedKey),
    keyWork: null,
    sapwood: { wish: 'allowed', along: 0, untold: [] },
    hold: INVENTED_HOLD,
    keysRefused: [{ crack: 'crack-2', reason: 'It is too near to the edge for the smallest key.' }],
    weight: { kg: 30, least: 27, most: 33 },
    movement: { change: 1.9, least: 1.2, most: 2.6, source: 'invented' },
  };
  const report: PlanReport = {
    job: { id: job.id, name, date: job.date, units, currency: 'EUR' },
    plan: { id: 'plan-1', name: 'Plan 1', gap: 0, waste: 0.38 },
    tops: [{ ...top, keyWork: keyWork(job, top, ['Keys hold a crack; they do not stop drying.']) }],
    keyBlanks: INVENTED_BLANKS,
    slabs,
    // One plan has doors: their sheets would double the time of all others.
    sets: seed === 1 ? [setReport(job, withSet(job))] : [],
    boards: boardReports(job),
    misses: [],
    cost: {
      lines: slabs.map((slab) => ({ item: `Log 7, ${slab.name}`, quantity: '1', price: slab.price })),
      total: 590,
      slabs: 410,
      perSquareMetre: 410,
    },
    wood: inventedWood(slabs),
    sledWork: { sled: 95, machines: 0, chips: 240, bags: 3, metres: 480, cutting: 260 },
    order: [
      'Sweep for metal',
      'Drill the marks',
      'Mark all lines',
      'Crosscut',
      'Seal the ends',
      'Rough-rip',
      'Flatten both faces',
      'Sticker',
      'Joint',
      'Glue',
      'Keys',
      'Finish',
    ].map((step) => ({
      step,
      detail: 'As the sheets say, and not before the wood is at the moisture of the site.',
      cautions: ['rip'],
    })),
    verdict: { passed: true, faults: [] },
  };
  return { job, report };
}

/** A request for the sheets of an invented plan, without pictures. */
export async function inventedRequest(
  seed: number,
  paper: SheetRequest['paper'] = 'A4',
  units: 'mm' | 'in' = 'mm',
  name?: string,
): Promise<SheetRequest> {
  return { ...inventedReport(seed, units, name), paper, typeface: await typeface(), faces: new Map(), tops: new Map() };
}

/** Drying, gluing and fixing of the invented tops, by the wood room's own rules. */
function inventedWood(slabs: readonly SlabReport[]): PlanReport['wood'] {
  const species = 'walnut_black';
  const weight = { kg: 30, least: 27, most: 33 };
  const lift = { limit: 10.6, times: 2.8 };
  const drying = dryingOf({ species, from: 12, to: 8, width: 350, thickness: 54, pith: { y: 120, z: 90 } });
  const glue = glueUp({ kind: 'hardwood', length: 2200, thickness: 38, headToJoint: 300, perClamp: 4500 });
  const fixing = fixingOf({ species, length: 2200, depth: 640, driest: 6, wettest: 10, fast: 'front', screw: 5 });
  return {
    slabs: slabs.map(({ slab, name }) => ({ slab, name, weight, lift })),
    blanks: slabs.flatMap(({ blanks }) =>
      blanks.map(({ id }, i) => ({
        id,
        weight,
        lift,
        drying: i === 0 ? drying : null,
        pith: i === 0 ? { sure: true, ratio: 1.4 } : null,
      })),
    ),
    tops: [{ id: 'counter', name: 'Counter', weight, lift, fixing, glue: [glue] }],
    meetings: [{ heading: 'Wall: Counter to Leg, folds down', words: ['Saw at 45° (invented).'] }],
    apart: ['Slab 1 stands at 12 % and Slab 2 at 8 %: not to be glued yet (invented).'],
  };
}
