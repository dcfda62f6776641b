import * as Comlink from 'comlink';
import plainFont from 'dejavu-fonts-ttf/ttf/DejaVuSansCondensed.ttf?url';
import boldFont from 'dejavu-fonts-ttf/ttf/DejaVuSansCondensed-Bold.ttf?url';
import loadHighs, { type Highs } from 'highs';
import highsRuntime from 'highs/runtime?url';
import {
  aheadSheets,
  type CardRequest,
  cardSheets,
  cuttingMap,
  type EncodedImage,
  type LaidPicture,
  laidPicture,
  loadTypeface,
  type MapFile,
  MM_PER_PX,
  mapFiles,
  type PaperName,
  previewName,
  type ReadingSheetRequest,
  readingSheets,
  type Typeface,
  toPdf,
} from '../src/cutmap';
import type { BlankFlattening, Section } from '../src/flattening';
import type { Segment } from '../src/geometry';
import { findSlab, type Job, type Placement, type Plan, type Strip, type Top } from '../src/job';
import {
  type JointBench,
  type JointMove,
  jointBench,
  type MovedJoint,
  surfacesOf,
  type WouldDo,
  withPlacements,
} from '../src/layout';
import {
  type BlankDrawing,
  blankDrawing,
  checkPlan,
  DOORS_ALONE,
  type PlanReport,
  panelPictures,
  planReport,
  proposals,
  proposedTop,
  type SlabThickness,
  slabThickness,
  topPicture,
  type Verdict,
  wouldDoFor,
} from '../src/plan';
import { type FacePicture, type Raster, resample } from '../src/raster';
import { pause, stage } from '../src/search';
import { Memo } from '../src/surface';
import { type Answer, Calls, type Report } from './answer';
import { encode } from './pixels';
import { SeamPool } from './seam-pool';
import { opened, type StoredFace } from './stored-face';

export type { StoredFace };

/** Lays out, computes and draws plans. Thin: what is computed is in the rooms. */

/** A joint moved by hand, and what the checker says of the whole plan with it. */
export interface CheckedMove extends MovedJoint {
  readonly faults: Verdict['faults'];
}

/** A sheet for the screen. */
export interface MapPage {
  readonly name: string;
  readonly title: string;
  readonly svg: string;
  /** Its width over its height. */
  readonly shape: number;
}

/** Files of a cutting map, by name, in order; `pages` are the sheets for the screen. */
export interface MapFiles {
  readonly pages: readonly MapPage[];
  readonly files: readonly MapFile[];
}

/** The same cards give the same file, whenever they are printed: the day of their drawing. */
const CARDS_DATE = '2026-11-25';

const JPEG_QUALITY = 0.85;

const calls = new Calls();
/** What surfaces need not make anew when a reading changes. */
const memo = new Memo(20_000_000);
let highs: Promise<Highs> | null = null;
let typeface: Promise<Typeface> | null = null;
/** The placement whose joint is looked along or dragged, and the plan that it is of. */
let joint: { readonly job: Job; readonly plan: Plan | null; readonly bench: JointBench } | null = null;
/** Surfaces of the slab that is looked at, by what they follow from: a line that is dragged asks for them at each move. */
let looked: { readonly by: string; readonly surfaces: ReturnType<typeof surfacesOf> } | null = null;
/** Decoded faces, by stored file: a job's few slabs, so that a dragged joint need not decode them again. */
const decoded = new Map<string, { blob: Blob; picture: FacePicture }>();

function ready<T>(held: T | null): T {
  if (!held) throw new Error('no joint was taken');
  return held;
}

const solver = (): Promise<Highs> => (highs ??= loadHighs({ locateFile: () => highsRuntime }));

async function fonts(): Promise<Typeface> {
  const bytes = async (url: string) => new Uint8Array(await (await fetch(url)).arrayBuffer());
  typeface ??= Promise.all([bytes(plainFont), bytes(boldFont)]).then(([plain, bold]) => loadTypeface(plain, bold));
  return typeface;
}

async function picturesOf(faces: readonly StoredFace[]): Promise<Map<string, FacePicture>> {
  const pictures = new Map<string, FacePicture>();
  for (const face of faces) {
    const { key, file, blob, x0, y0 } = face;
    const known = decoded.get(file);
    const same = known && known.blob.size === blob.size && known.picture.x0 === x0 && known.picture.y0 === y0;
    const picture = same ? known.picture : await opened(face);
    if (!same) decoded.set(file, { blob, picture });
    pictures.set(key, picture);
  }
  for (const file of decoded.keys()) if (!faces.some((face) => face.file === file)) decoded.delete(file);
  return pictures;
}

/** Pictures of leaves, no finer than they are shown: they are looked at once. */
async function leavesOf(leaves: readonly StoredFace[]): Promise<Map<string, FacePicture>> {
  const pictures = new Map<string, FacePicture>();
  for (const leaf of leaves) {
    const picture = await opened(leaf);
    pictures.set(leaf.key, picture.mmPerPx < MM_PER_PX ? resample(picture, MM_PER_PX) : picture);
  }
  return pictures;
}

async function encoded(raster: Raster, type: 'jpeg' | 'png'): Promise<EncodedImage> {
  const blob = await encode(raster, `image/${type}`, type === 'jpeg' ? JPEG_QUALITY : undefined);
  const { width, height } = raster;
  return { type, bytes: new Uint8Array(await blob.arrayBuffer()), width, height };
}

const asJpeg = (raster: Raster): Promise<EncodedImage> => encoded(raster, 'jpeg');

function drawingOf(job: Job, strip: Strip, blank: BlankFlattening): BlankDrawing | null {
  const { slab } = findSlab(job, strip.flitch, strip.slab);
  const by = JSON.stringify({ ...slab, faces: null });
  if (looked?.by !== by) looked = { by, surfaces: surfacesOf(slab, memo) };
  return blankDrawing(job, strip, blank, looked.surfaces);
}

function checked(job: Job, plan: Plan, made: MovedJoint): CheckedMove {
  const moved = [made, ...made.others].filter(({ placement }) => plan.placements[placement.top]);
  const placements = Object.fromEntries(moved.map(({ placement }) => [placement.top, placement]));
  const changed = { ...plan, placements: { ...plan.placements, ...placements } };
  return { ...made, faults: checkPlan(job, changed).faults };
}

const api = {
  stop(id: number): void {
    calls.stop(id);
  },

  /** Plans for the job's tops, the best first. @param heard hears plans as they come; what it heard last stands when the work is stopped */
  propose(
    id: number,
    job: Job,
    faces: readonly StoredFace[],
    heard: (plans: readonly Plan[]) => void,
    report: Report,
  ): Promise<Answer<Plan[]>> {
    return calls.answer(id, report, async (control) => {
      await pause(control, 0, 'Opening the pictures of the slabs');
      const pictures = await picturesOf(faces);
      const pool = new SeamPool(job, faces);
      try {
        return await proposals(job, pictures, await solver(), control, { heard, search: pool.search });
      } finally {
        pool.close();
      }
    });
  },

  /** The first top of a job, sized to its slabs. */
  firstTop(id: number, job: Job, top: string, report: Report): Promise<Answer<Top>> {
    return calls.answer(id, report, (control) => proposedTop(job, top, control));
  },

  /** What would do in the place of a top that a plan misses. */
  wouldDo(id: number, job: Job, plan: Plan, top: string, report: Report): Promise<Answer<WouldDo[]>> {
    return calls.answer(id, report, (control) => wouldDoFor(job, plan, top, control));
  },

  /** Lays a seamed placement ready for its joint to be looked along and dragged. */
  take(
    id: number,
    job: Job,
    placement: Placement,
    faces: readonly StoredFace[],
    report: Report,
  ): Promise<Answer<null>> {
    return calls.answer(id, report, async () => {
      joint = { job, plan: null, bench: jointBench(job, placement, await picturesOf(faces)) };
      return null;
    });
  },

  /** Takes a placement of a plan of the job that was laid ready last. */
  retake(id: number, plan: Plan, placement: Placement, report: Report): Promise<Answer<null>> {
    return calls.answer(id, report, async () => {
      const { job, bench } = ready(joint);
      joint = { job, plan, bench: bench.onto(placement) };
      return null;
    });
  },

  /** The placement taken last with its joint line moved, and what that breaks; null where the line leaves the wood. */
  move(id: number, move: JointMove, report: Report): Promise<Answer<CheckedMove | null>> {
    return calls.answer(id, report, async () => {
      const { job, plan, bench } = ready(joint);
      const made = bench.move(move);
      return made && plan && checked(job, plan, made);
    });
  },

  /** The joint of the placement taken last as it is found again near where it is, the best that the checker passes; null where none does. */
  again(id: number, report: Report): Promise<Answer<CheckedMove | null>> {
    return calls.answer(id, report, async (control) => {
      const { job, plan, bench } = ready(joint);
      if (!plan) return null;
      const found = (await bench.again(control)).map((made) => checked(job, plan, made));
      return found.find(({ faults }) => faults.length === 0) ?? null;
    });
  },

  /** The seam of a placement of the job that was taken last, stretch by stretch; null where a face has no picture. */
  along(id: number, placement: Placement, report: Report): Promise<Answer<ReturnType<JointBench['along']>>> {
    return calls.answer(id, report, async () => {
      return ready(joint).bench.onto(placement).along();
    });
  },

  /** The plan with a moved joint put into it, thickness as promised and its figures anew. */
  put(id: number, job: Job, plan: Plan, moved: MovedJoint, report: Report): Promise<Answer<Plan>> {
    return calls.answer(id, report, async () => {
      return withPlacements(job, plan, ready(joint).bench.settled(moved));
    });
  },

  /** The whole job computed for one plan. */
  compute(id: number, job: Job, plan: Plan, report: Report): Promise<Answer<PlanReport>> {
    return calls.answer(id, report, async () => planReport(job, plan, memo));
  },

  /** A blank from the side along a line, in the frame of the face that is up; null without readings. */
  section(
    id: number,
    job: Job,
    strip: Strip,
    blank: BlankFlattening,
    line: Segment<'face'>,
    report: Report,
  ): Promise<Answer<Section | null>> {
    return calls.answer(id, report, async () => drawingOf(job, strip, blank)?.section(line) ?? null);
  },

  /** What the passes of a blank take off, place by place; null without readings. */
  standing(
    id: number,
    job: Job,
    strip: Strip,
    blank: BlankFlattening,
    report: Report,
  ): Promise<Answer<ReturnType<BlankDrawing['standing']> | null>> {
    return calls.answer(id, report, async () => drawingOf(job, strip, blank)?.standing() ?? null);
  },

  /** Cards to lay on slabs, as a PDF. */
  cards(id: number, request: Omit<CardRequest, 'typeface'>, report: Report): Promise<Answer<Uint8Array>> {
    return calls.answer(id, report, async () => {
      const face = await fonts();
      const sheets = cardSheets({ ...request, typeface: face });
      return toPdf(sheets, face, { title: 'Cards to lay on the slab', date: CARDS_DATE, language: 'en' });
    });
  },

  /** What a slab gives flattened whole, as far as it was read; null without an outline or readings. */
  slabThickness(
    id: number,
    job: Job,
    flitch: string,
    slab: string,
    report: Report,
  ): Promise<Answer<SlabThickness | null>> {
    return calls.answer(id, report, async () => slabThickness(job, flitch, slab, memo));
  },

  /** A sheet to write a slab's readings on, as a PDF. */
  readingSheet(
    id: number,
    request: Omit<ReadingSheetRequest, 'typeface'>,
    date: string,
    report: Report,
  ): Promise<Answer<Uint8Array>> {
    return calls.answer(id, report, async () => {
      const face = await fonts();
      return toPdf(readingSheets({ ...request, typeface: face }), face, {
        title: `Readings of ${request.slab.name}`,
        date,
        language: 'en',
      });
    });
  },

  /** The cutting map: its sheets for the screen, and all its files. @param leaves pictures of the leaves that the kept set uses */
  map(
    id: number,
    job: Job,
    plan: Plan,
    faces: readonly StoredFace[],
    leaves: readonly StoredFace[],
    paper: PaperName,
    report: Report,
  ): Promise<Answer<MapFiles>> {
    return calls.answer(id, report, async (control) => {
      await pause(control, 0, 'Computing the plan');
      const computed = planReport(job, plan);
      const face = await fonts();
      await pause(control, 0.2, 'Composing the pictures');
      const pictures = await picturesOf(faces);
      const faceImages = new Map<string, LaidPicture>();
      for (const [key, picture] of pictures) faceImages.set(key, await laidPicture(picture, asJpeg));
      const previews: MapFile[] = [];
      const preview = async (name: string, picture: FacePicture): Promise<void> => {
        previews.push({ name, type: 'image/png', bytes: (await encoded(picture.raster, 'png')).bytes });
      };
      const tops = new Map<string, LaidPicture>();
      for (const top of computed.tops) {
        const picture = topPicture(top.placement, pictures, MM_PER_PX);
        if (!picture) continue;
        tops.set(top.id, await laidPicture(picture, asJpeg));
        await preview(previewName(computed, top), picture);
      }
      const panels = new Map<string, LaidPicture>();
      const kept = job.sets[job.keptSet ?? ''];
      if (kept) {
        const shown = panelPictures(job, kept, await leavesOf(leaves), MM_PER_PX);
        for (const [front, picture] of shown) {
          panels.set(front, await laidPicture(picture, asJpeg));
          await preview(`panel-${front}.png`, picture);
        }
      }
      await pause(control, 0.5, 'Drawing the sheets');
      const map = cuttingMap({ report: computed, job, paper, typeface: face, faces: faceImages, tops, panels });
      const about = { title: job.name, date: job.date, language: 'en' };
      const files = [...(await mapFiles(map, face, about, stage(control, 0.6, 1))), ...previews];
      const text = new TextDecoder();
      const pages = map.sheets.map(({ name, title, width, height }) => {
        const file = files.find((one) => one.name === `${name}.svg`);
        return { name, title, svg: text.decode(file?.bytes), shape: width / height };
      });
      return { pages, files };
    });
  },

  /** Doors laid out on leaves that are not sawn yet, as an estimate on paper: a PDF. @param job as `jobAhead` makes it, with that set kept */
  estimate(
    id: number,
    job: Job,
    leaves: readonly StoredFace[],
    trust: readonly string[],
    paper: PaperName,
    report: Report,
  ): Promise<Answer<Uint8Array>> {
    return calls.answer(id, report, async () => {
      const typeface = await fonts();
      const panels = new Map<string, LaidPicture>();
      const kept = job.sets[job.keptSet ?? ''];
      const shown = kept ? panelPictures(job, kept, await leavesOf(leaves), MM_PER_PX) : [];
      for (const [front, picture] of shown) panels.set(front, await laidPicture(picture, asJpeg));
      const computed = planReport(job, DOORS_ALONE);
      const request = { report: computed, job, paper, typeface, faces: new Map(), tops: new Map(), panels };
      return toPdf(aheadSheets(request, trust), typeface, {
        title: `Estimate: ${job.name}`,
        date: job.date,
        language: 'en',
      });
    });
  },
};
export type SolverApi = typeof api;
Comlink.expose(api);
