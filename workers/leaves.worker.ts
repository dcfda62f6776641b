import * as Comlink from 'comlink';
import type { Job, PanelSet } from '../src/job';
import {
  type Bench,
  type CellName,
  checkSet,
  type Exchanged,
  exchangeBacks,
  exchangeFronts,
  exchangeLeaf,
  frontsOf,
  layOutSet,
  leafSequence,
  type PhotographedLeaf,
  prepareBench,
  readLooks,
  type SequenceFinding,
} from '../src/leaves';
import { benchLeaves, benchRules, type LeafAhead, type LeavesAhead, leafKey, leavesAhead } from '../src/plan';
import { type FacePicture, resample } from '../src/raster';
import { type Control, pause, stage } from '../src/search';
import { type Answer, Calls, type Report } from './answer';
import { encode } from './pixels';
import { opened, type StoredFace } from './stored-face';

/** Lays doors out on their leaves. Thin: what is computed is in the rooms. */

/** What is asked of a layout. */
export interface SetAsked {
  readonly id: string;
  readonly name: string;
  readonly without: readonly string[];
  readonly before: PanelSet | null;
}

/** A set and what the independent check says of it. */
export interface CheckedSet {
  readonly set: PanelSet;
  readonly faults: readonly string[];
}

/** What speaks against the numbers of leaves, by their ids, and the order that their figure tells. */
export interface SequenceTold {
  readonly order: readonly string[];
  readonly findings: readonly {
    readonly kind: SequenceFinding['kind'];
    readonly says: string;
    readonly leaves: readonly string[];
  }[];
}

/** Leaves to come, their pictures as files. */
export interface PicturedLeavesAhead extends Omit<LeavesAhead, 'leaves'> {
  readonly leaves: readonly (Omit<LeafAhead, 'picture'> & {
    readonly blob: Blob;
    readonly picture: Pick<FacePicture, 'mmPerPx' | 'x0' | 'y0'> & { readonly width: number; readonly height: number };
  })[];
}

/** mm a pixel at which leaves are looked at; finer pictures are made smaller, for their room. */
const MM_PER_PX = 1;
/** Of the pictures of leaves to come: an estimate has little detail. */
const QUALITY = 0.85;

const calls = new Calls();
/** The bench that was read last, by what it follows from. */
let held: { readonly by: string; readonly bench: Bench } | null = null;

async function picturesOf(faces: readonly StoredFace[], control: Control): Promise<Map<string, FacePicture>> {
  const pictures = new Map<string, FacePicture>();
  for (const [i, face] of faces.entries()) {
    await pause(control, i / faces.length, 'Opening the pictures of the leaves');
    const picture = await opened(face);
    pictures.set(face.key, picture.mmPerPx < MM_PER_PX ? resample(picture, MM_PER_PX) : picture);
  }
  return pictures;
}

async function benchOf(job: Job, faces: readonly StoredFace[], control: Control): Promise<Bench> {
  const by = JSON.stringify([job.boards, job.shop.resaw, job.shop.kerf.fine, faces.map(({ file }) => file)]);
  if (held?.by === by) return held.bench;
  const pictures = await picturesOf(faces, stage(control, 0, 0.6));
  const bench = await prepareBench(benchLeaves(job, pictures), benchRules(job), stage(control, 0.6, 1));
  held = { by, bench };
  return bench;
}

const checked = (job: Job, bench: Bench, set: PanelSet): CheckedSet => ({
  set,
  faults: checkSet(
    set,
    frontsOf(Object.values(job.doors)),
    bench.leaves.map(({ leaf }) => leaf),
  ),
});

const api = {
  stop(id: number): void {
    calls.stop(id);
  },

  /** The doors of a job laid out on its leaves. @param heard hears sets as they come, each better; the last stands when the work is stopped */
  layOut(
    id: number,
    job: Job,
    faces: readonly StoredFace[],
    asked: SetAsked,
    heard: (set: PanelSet) => void,
    report: Report,
  ): Promise<Answer<CheckedSet>> {
    return calls.answer(id, report, async (control) => {
      const bench = await benchOf(job, faces, stage(control, 0, 0.2));
      const { before, ...request } = asked;
      const set = await layOutSet(
        { ...request, fronts: frontsOf(Object.values(job.doors)), ...(before && { before }) },
        bench,
        stage(control, 0.2, 1),
        { heard },
      );
      return checked(job, bench, set);
    });
  },

  /** What the check says of a set as it stands. */
  check(
    id: number,
    job: Job,
    faces: readonly StoredFace[],
    set: PanelSet,
    report: Report,
  ): Promise<Answer<CheckedSet>> {
    return calls.answer(id, report, async (control) => checked(job, await benchOf(job, faces, control), set));
  },

  /** What the pictures of a board's leaves say of their numbers; leaves without a picture of their outer face are left out of it. */
  sequence(
    id: number,
    job: Job,
    board: string,
    faces: readonly StoredFace[],
    report: Report,
  ): Promise<Answer<SequenceTold>> {
    return calls.answer(id, report, async (control) => {
      const { kerf, dressing, leaf: sawn } = job.shop.resaw;
      const pictures = await picturesOf(faces, stage(control, 0, 0.2));
      const ids: string[] = [];
      const leaves: PhotographedLeaf[] = [];
      const own = Object.values(job.boards[board]?.leaves ?? {}).sort((a, b) => a.place - b.place);
      for (const { id: leaf, place, faces: both } of own) {
        const [top, bottom] = (['top', 'bottom'] as const).map((face) => {
          const picture = pictures.get(leafKey(board, leaf, face));
          const { outline, defects } = both[face];
          return picture && outline ? { picture, outline: outline.outer, defects: Object.values(defects) } : null;
        });
        if (!top) continue;
        ids.push(leaf);
        leaves.push({ name: String(place), top, bottom: bottom ?? null });
      }
      const saw = { thickness: sawn.thickness + sawn.sanding, kerf: kerf + dressing };
      const { order, findings } = await leafSequence(leaves, saw, stage(control, 0.2, 1));
      return {
        order: order.map((i) => ids[i] as string),
        findings: findings.map(({ kind, says, leaves: of }) => ({
          kind,
          says,
          leaves: of.map((i) => ids[i] as string),
        })),
      };
    });
  },

  /** How the leaves of a board are likely to look before it is sawn; null where that cannot be told. @param faces its own two */
  ahead(
    id: number,
    job: Job,
    board: string,
    faces: readonly StoredFace[],
    report: Report,
  ): Promise<Answer<PicturedLeavesAhead | null>> {
    return calls.answer(id, report, async (control) => {
      const own = job.boards[board];
      const pictures = await picturesOf(faces, stage(control, 0, 0.05));
      const ahead = own ? await leavesAhead(job, own, pictures, stage(control, 0.05, 0.95)) : null;
      if (!ahead) return null;
      const leaves: PicturedLeavesAhead['leaves'][number][] = [];
      for (const { picture, ...leaf } of ahead.leaves) {
        const { mmPerPx, x0, y0, raster } = picture;
        const place = { mmPerPx, x0, y0, width: raster.width, height: raster.height };
        leaves.push({ ...leaf, picture: place, blob: await encode(raster, 'image/jpeg', QUALITY) });
      }
      return { ...ahead, leaves };
    });
  },

  /** A set with one leaf exchanged for another; null where that cannot be. */
  exchange(
    id: number,
    job: Job,
    faces: readonly StoredFace[],
    set: PanelSet,
    at: CellName,
    leaf: string,
    report: Report,
  ): Promise<Answer<Exchanged | null>> {
    return calls.answer(id, report, async (control) => exchangeLeaf(await benchOf(job, faces, control), set, at, leaf));
  },

  /** Two fronts change their leaves, or their backs alone; null where that cannot be. */
  swap(
    id: number,
    job: Job,
    faces: readonly StoredFace[],
    set: PanelSet,
    [one, other]: readonly [string, string],
    what: 'leaves' | 'backs',
    report: Report,
  ): Promise<Answer<Exchanged | null>> {
    return calls.answer(id, report, async (control) => {
      const bench = await benchOf(job, faces, control);
      return (what === 'leaves' ? exchangeFronts : exchangeBacks)(bench, set, one, other);
    });
  },

  /** Has all that an exchange asks for read before the first one. */
  ready(id: number, job: Job, faces: readonly StoredFace[], report: Report): Promise<Answer<null>> {
    return calls.answer(id, report, async (control) => {
      await readLooks(await benchOf(job, faces, stage(control, 0, 0.2)), stage(control, 0.2, 1));
      return null;
    });
  },
};
export type LeavesApi = typeof api;
Comlink.expose(api);
