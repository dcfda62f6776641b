import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import loadHighs from 'highs';
import { type Polygon, ringArea } from '../../src/geometry';
import { defaultTop, emptyFlitch, emptyJob, emptySlab, type Job, type Slab, slabKey, type Top } from '../../src/job';
import { type Carries, carriesOf, jobWith, proposePlans } from '../../src/layout';
import { seededRandom, unwatched, WorkBudget } from '../../src/search';
import { rackJob } from '../support/rack';
import { tapedJob } from '../support/taped';
import { percent, type Row, share } from './table';

/**
 * What a tape, a string and callipers tell of slabs that are known in truth, against the full search on the truth: whether a slab or pair that is said
 * to carry a top does, and how often one that would is said not to.
 */

const TOPS: readonly Partial<Top>[] = [
  { name: 'live counter', length: 2200, depth: [600, 650], thickness: 38, seams: 1 },
  { name: 'straight counter', length: 2000, depth: [600, 620], thickness: 34, seams: 1, front: 'straight' },
  { name: 'live shelf', length: 1200, depth: [280, 360], thickness: 30, seams: 0 },
  { name: 'straight shelf', length: 1500, depth: [300, 320], thickness: 38, seams: 0, front: 'straight' },
];
/** Invented racks, and slabs in each. */
const [RACKS, SLABS] = [8, 4];
/** Full evaluations of seams: sets are laid out by shape. */
const WORK = 3_000;

const wanted = (): Job['tops'] =>
  Object.fromEntries(
    TOPS.map((top, i) => [`top-${i + 1}`, { ...defaultTop(`top-${i + 1}`), ...top, id: `top-${i + 1}` }]),
  );

type Grid = readonly (readonly (number | null)[])[];

/** The rendered slabs of a flitch with their true edge and surfaces; null where the folder has none. */
export function renderedJob(folder: string, flitch: string): Job | null {
  const own = join(folder, flitch);
  const names = existsSync(own) ? readdirSync(own).filter((file) => file.endsWith('_warp.json')) : [];
  if (names.length === 0) return null;
  const log = emptyFlitch(flitch, flitch, 'walnut_black');
  for (const [i, file] of names.entries()) {
    const read = <T>(name: string): T => JSON.parse(readFileSync(join(own, name), 'utf8')) as T;
    const { exact_grid: grid } = read<{ exact_grid: { x: number[]; y: number[]; top: Grid; bottom: Grid } }>(file);
    const face = read<{ wood_without_bark: { outer: Polygon<'face'> }[] }>(file.replace('_warp', '_top'));
    const outer = face.wood_without_bark.reduce((a, b) => (ringArea(b.outer) > ringArea(a.outer) ? b : a)).outer;
    const slab: Slab = { ...emptySlab(`s${i}`, i + 1), name: `s${i}` };
    slab.faces.top = { ...slab.faces.top, outline: { outer, holes: [] }, outlineSigma: 0 };
    // Every second node: 100 mm apart, more than enough for what is smooth over 500.
    grid.y.forEach((y, r) => {
      grid.x.forEach((x, c) => {
        const [top, bottom] = [grid.top[r]?.[c] ?? null, grid.bottom[r]?.[c] ?? null];
        if ((r + c) % 2 === 0 && c % 4 === 0 && top !== null && bottom !== null)
          slab.spots[`${r}-${c}`] = { id: `${r}-${c}`, at: [x, y], top, bottom, thickness: null, sigma: 0.1 };
      });
    });
    log.slabs[slab.id] = slab;
  }
  return { ...emptyJob('rendered', flitch, '2026-11-26'), flitches: { [flitch]: log }, tops: wanted() };
}

interface Judged extends Pick<Carries, 'says' | 'worst'> {
  readonly kind: string;
  readonly top: string;
  readonly truly: boolean;
}

/** Whether a full search on the truth finds one wanted top in a set of slabs. */
export async function trulyCarries(job: Job, set: readonly string[], top: string): Promise<boolean> {
  const one = { ...job, tops: { [top]: job.tops[top] as Top } };
  const watched = unwatched(new WorkBudget(WORK));
  const [plan] = await proposePlans(jobWith(one, set), new Map(), await loadHighs(), watched);
  const place = plan?.placements[top];
  return place !== undefined && (place.thickness ?? 0) >= (job.tops[top]?.thickness ?? 0);
}

async function judge(job: Job, kind: string, seed: number): Promise<Judged[]> {
  const known = tapedJob(job, seededRandom(seed));
  const keys = Object.values(job.flitches).flatMap(({ id, slabs }) => Object.keys(slabs).map((s) => slabKey(id, s)));
  const sets = [...keys.map((key) => [key]), ...keys.flatMap((a, i) => keys.slice(i + 1).map((b) => [a, b]))];
  const judged: Judged[] = [];
  for (const set of sets) {
    const told = carriesOf(known, [set]);
    for (const { top, says, worst } of told) {
      const truly = await trulyCarries(job, set, top);
      judged.push({ kind: `${kind}, ${set.length === 1 ? 'alone' : 'pairs'}`, top, says, worst, truly });
    }
  }
  return judged;
}

/** Rows of the table. */
export async function yard(folder: string): Promise<Row[]> {
  const rendered = ['demo', 'rack'].flatMap((flitch) => renderedJob(folder, flitch) ?? []);
  const racks = Array.from({ length: RACKS }, (_, i) => ({
    ...rackJob({ slabs: SLABS, seed: 900 + i }),
    tops: wanted(),
  }));
  const judged: Judged[] = [];
  for (const [i, job] of rendered.entries()) judged.push(...(await judge(job, 'rendered slabs', i)));
  for (const [i, job] of racks.entries()) judged.push(...(await judge(job, 'invented racks', 100 + i)));
  return [...new Set(judged.map(({ kind }) => kind)), 'all'].flatMap((kind): Row[] => {
    const own = judged.filter((one) => kind === 'all' || one.kind === kind);
    const said = (says: Carries['says']) => own.filter((one) => one.says === says);
    const right = share(said('carries').map(({ truly }) => truly));
    const had = own.filter(({ truly }) => truly);
    const [may, cannot] = [said('may'), said('cannot')];
    return [
      {
        what: `${kind}: said to carry, and does`,
        n: said('carries').length,
        figure: percent(right),
        reach: '95 %',
        met: right >= 0.95,
      },
      { what: `${kind}: not told, and does`, n: may.length, figure: percent(share(may.map(({ truly }) => truly))) },
      {
        what: `${kind}: said not to, and would`,
        n: cannot.length,
        figure: percent(share(cannot.map(({ truly }) => truly))),
      },
      {
        what: `${kind}: of what does carry, refused`,
        n: had.length,
        figure: percent(share(had.map(({ says }) => says === 'cannot'))),
      },
    ];
  });
}
