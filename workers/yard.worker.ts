import * as Comlink from 'comlink';
import loadHighs, { type Highs } from 'highs';
import highsRuntime from 'highs/runtime?url';
import type { Job } from '../src/job';
import {
  boundRack,
  type Carries,
  type CarriesMemo,
  carriesOf,
  jobWith,
  rackOf,
  type YardAim,
  type YardBound,
} from '../src/layout';
import { proposals, type YardLook, yardLook } from '../src/plan';
import { type FacePicture, resample } from '../src/raster';
import { pause, WorkBudget } from '../src/search';
import { type Answer, Calls, type Report } from './answer';
import { pixelsOf } from './pixels';
import type { StoredFace } from './stored-face';

/** Ranks the slabs of a rack: one of several that each lay out a set. Thin: what is computed is in the rooms. */

/** Seams of a set are searched with so many full evaluations: enough to rank by, few enough for a rack. The plan of a set that is bought is searched in full. */
const LOOK_WORK = 3_000;
/** mm a pixel at which seams are looked at; finer pictures are made smaller, for their room. */
const MM_PER_PX = 1;
/** Decoded faces that are kept for the next set. */
const KEPT = 6;

const calls = new Calls();
let highs: Promise<Highs> | null = null;
const decoded = new Map<string, FacePicture>();

const solver = (): Promise<Highs> => (highs ??= loadHighs({ locateFile: () => highsRuntime }));

async function pictureOf({ file, blob, mmPerPx, x0, y0 }: StoredFace): Promise<FacePicture> {
  const key = [file, blob.size, mmPerPx, x0, y0].join();
  const known = decoded.get(key);
  if (known) return known;
  const full: FacePicture = { raster: pixelsOf(await createImageBitmap(blob)), mmPerPx, x0, y0 };
  const picture = mmPerPx < MM_PER_PX ? resample(full, MM_PER_PX) : full;
  decoded.set(key, picture);
  for (const old of decoded.keys()) if (decoded.size > KEPT) decoded.delete(old);
  return picture;
}

/** Slabs whose verdicts are kept; each is a few kB. */
const REMEMBERED = 200;
const carried: CarriesMemo = new Map();

const api = {
  stop(id: number): void {
    calls.stop(id);
  },

  /** What each set of slabs carries of every wanted top, told at once by what is known. */
  carries(id: number, job: Job, sets: readonly (readonly string[])[], report: Report): Promise<Answer<Carries[][]>> {
    return calls.answer(id, report, async (control) => {
      const told: Carries[][] = [];
      for (const [i, set] of sets.entries()) {
        await pause(control, i / sets.length);
        told.push(carriesOf(job, [set], carried));
      }
      for (const old of carried.keys()) if (carried.size > REMEMBERED) carried.delete(old);
      return told;
    });
  },

  /** Every single slab and every pair of the rack, bounded. */
  bound(id: number, job: Job, aim: YardAim, report: Report): Promise<Answer<YardBound[]>> {
    return calls.answer(id, report, async (control) => boundRack(job, aim, control));
  },

  /** One set laid out. @param faces pictures of its slabs; null to lay it out by shape alone */
  look(
    id: number,
    job: Job,
    aim: YardAim,
    bound: YardBound,
    faces: readonly StoredFace[] | null,
    report: Report,
  ): Promise<Answer<YardLook>> {
    return calls.answer(id, report, async (control) => {
      await pause(control, 0);
      const slabs = [...rackOf(job).owned, ...bound.slabs];
      const own = jobWith(job, slabs);
      const pictures = new Map<string, FacePicture>();
      for (const face of faces ?? []) pictures.set(face.key, await pictureOf(face));
      const limited = { ...control, budget: new WorkBudget(LOOK_WORK) };
      const [plan] = await proposals(own, pictures, await solver(), limited);
      if (!plan) throw new Error('no plan was proposed');
      return yardLook(job, plan, aim, slabs, bound, faces !== null);
    });
  },
};

export type YardApi = typeof api;
Comlink.expose(api);
