import * as Comlink from 'comlink';
import type { ReadPhoto } from '../../../../workers/photo.worker';
import type { Point } from '../../../geometry';
import { emptyFlitch, emptySlab, type Job, type Photo, type Scale } from '../../../job';
import { strokesMoved, strokesOnPhotos } from '../../../photo';
import { recordTrace } from '../../../plan';
import { announce } from '../../announce';
import { newId } from '../../jobs';
import { photoWork } from '../../work';
import { ArrivingPhoto } from './arriving-photo';
import { askWhichSlab } from './ask-which-slab';
import { joinPhotos, otherMeasured, readBy } from './join-photos';
import { AS_IT_WAS, dropProposals, readingsOf, stepOf, stoppedSays, type Target, work } from './photo-work';
import { afterReading, newReference, scaleToRead } from './reference/reading';
import type { StockView } from './view';
import { waiting } from './waiting';
import { askWhatTheyShow } from './what-they-show';

/** The species that a new flitch begins with: it is the first thing to set right, and only weight and movement need it. */
const FIRST_SPECIES = 'walnut_black';

/** What photos show. */
type Shows = 'one slab each' | 'next slabs' | 'this face';

/** Takes photos in and reads them; where they are several, or the face in view was measured already, it is asked first what they show. */
export async function addPhotos(view: StockView, files: readonly File[]): Promise<void> {
  const measured = otherMeasured(view.face.peek(), '').length > 0;
  if (files.length > 1 || (measured && files.length > 0)) await askWhatTheyShow(view, files);
  else await takePhotos(view, files, 'one slab each');
}

/** The person's answer to what new photos show. */
export async function theyShow(view: StockView, what: Shows | 'nothing'): Promise<void> {
  const asked = view.arrivals.peek();
  view.arrivals.value = null;
  if (asked && what !== 'nothing') await takePhotos(view, asked.files, what);
}

/**
 * Takes photos in and reads them. One slab each: the first goes to the face in view, the next to the slabs that follow, which
 * are added where missing. Next slabs: all go to those that follow. This face: all are parts of the one in view.
 * A file that is no photo is refused, with the job untouched by it.
 */
export async function takePhotos(view: StockView, files: readonly File[], show: Shows): Promise<void> {
  const faceName = view.faceName.peek();
  let first: string | null = null;
  let slabId = view.place.peek()?.slab.id ?? null;
  for (const [i, file] of files.entries()) {
    const onwards = show === 'next slabs' || (show === 'one slab each' && i > 0);
    const next = onwards && slabId ? slabAfter(view.store.job.peek(), slabId) : slabId;
    const done = await storePhoto(view, file, { slabId: next ?? newId(), face: faceName });
    if (!done) return;
    slabId = done.slabId;
    first ??= done.slabId;
    if (i === 0) view.look(done.slabId, faceName);
    // What must be clicked on the photo first is clicked by the person.
    if (facesOf(view.store.job.peek(), done)?.photos[done.photoId]?.draft) {
      view.photoId.value = done.photoId;
      view.lookAt.value = 'photo';
      continue;
    }
    if (!(await readPhoto(view, done, { known: file }))) return;
  }
  // Of several slabs the first is shown again; who went on to another meanwhile after one photo stays there.
  if (first && files.length > 1) view.look(first, faceName);
}

/** Keeps a photo of a slab's upper face, to be read when there is time: reading takes seconds, and what is left in the battery. */
export async function keepPhoto(view: StockView, slabId: string, file: File): Promise<void> {
  await storePhoto(view, file, { slabId, face: 'top' });
}

/** Opens a file and adds it to a face; null where it is no photo, or it was stopped. */
const storePhoto = (view: StockView, file: File, place: Omit<Target, 'photoId'>): Promise<Target | null> =>
  work(view, `Opening ${file.name}`, AS_IT_WAS, async (signal, report) => {
    const size = await photoWork.call(signal, report, (api, id, tell) => api.inspect(id, file, file.name, tell));
    const target: Target = { ...place, photoId: newId() };
    const name = `photos/${target.slabId}-${target.face}-${target.photoId}.${extension(file)}`;
    const photo: Photo = { id: target.photoId, file: name, ...size, ...newReference(view), calibration: null };
    await view.store.editWithFiles(new Map([[name, file]]), 'Add a photo', (draft) => {
      slabIn(draft, target.slabId).faces[target.face].photos[photo.id] = photo;
    });
    return target;
  });

/** Reads every photo of the job that was not read yet. */
export async function readWaiting(view: StockView): Promise<void> {
  for (const target of waiting(view.store.job.peek())) {
    view.look(target.slabId, target.face);
    if (!(await readPhoto(view, target))) return;
  }
}

/** What is at hand already when a photo is read. */
interface AtHand {
  /** The photo's file. */
  known?: Blob;
  scale?: Scale;
  /** A place (px) on the slab that is meant; the photo keeps it. */
  slabAt?: Point<'photo'>;
  /** Another photo of the face, which is taken out of it in the same step. */
  without?: string;
}

/**
 * Reads one photo of the job, with those that its face was measured from besides: reference, rectified face, outline, proposed defects.
 * One step that can be undone. Where it shows more than one slab, it is asked which is meant.
 * @returns whether it was read
 */
export async function readPhoto(view: StockView, target: Target, atHand: AtHand = {}): Promise<boolean> {
  const { known, scale, slabAt, without } = atHand;
  const kept = facesOf(view.store.job.peek(), target)?.photos[target.photoId];
  if (!kept) return false;
  const stopped = stoppedSays('The photo is not read', without);
  const reference =
    scale ?? (await work(view, 'Reading the photo', stopped, (signal) => scaleToRead(view, kept, known, signal)));
  if (!reference) return false;
  const photo: Photo = { ...kept, scale: reference, ...(slabAt && { slabAt }) };
  const others = otherMeasured(facesOf(view.store.job.peek(), target), photo.id).filter(({ id }) => id !== without);
  const read = await (others.length > 0
    ? joinPhotos(view, target, [...others, photo], atHand)
    : readAlone(view, target, photo, atHand));
  const trouble = view.trouble.peek();
  if (!read && trouble && (trouble.which || slabAt)) askWhichSlab(view, photo);
  return read;
}

async function readAlone(
  view: StockView,
  target: Target,
  photo: Photo,
  { known, without }: Pick<AtHand, 'known' | 'without'>,
): Promise<boolean> {
  const readings = readingsOf(view.store.job.peek(), target);
  const [strokes = []] = strokesOnPhotos([photo], facesOf(view.store.job.peek(), target)?.strokes ?? []);
  const arriving = new ArrivingPhoto(view, target, stepOf('Read a photo', without), (draft, read, file) => {
    if (without) delete facesOf(draft, target)?.photos[without];
    takeReading(draft, target, photo, read, file);
  });
  const stopped = stoppedSays('The photo is not read', without);
  const read = await work(view, 'Reading the photo', stopped, async (signal, report) => {
    const file = known ?? (await view.store.file(photo.file));
    if (!file) throw new Error(`the photo ${photo.file} is not stored`);
    const hear = Comlink.proxy(arriving.hear);
    const read = await photoWork
      .call(signal, report, (api, id, tell) =>
        api.read(id, file, photo.file, photo.scale, { readings, strokes }, tell, hear),
      )
      .catch((error: unknown) => {
        if (!signal.aborted || !arriving.hasOutline) throw error;
        announce('Stopped. The outline stays; defects were not looked for.');
        return null;
      });
    if (read) await arriving.finish(read);
    return read;
  });
  arriving.end();
  if (!read) return false;
  announce(summary(read));
  await afterReading(view, photo, photo.scale, read.calibration);
  return true;
}

/** Writes what a photo told into the job. Proposals that nobody settled make way for the new ones. */
function takeReading(draft: Job, target: Target, by: Photo, read: ReadPhoto, file: string): void {
  const flitch = Object.values(draft.flitches).find(({ slabs }) => slabs[target.slabId]);
  const face = flitch?.slabs[target.slabId]?.faces[target.face];
  const photo = face?.photos[target.photoId];
  if (!flitch || !face || !photo) return;
  const { calibration: before } = photo;
  readBy(photo, by);
  dropProposals(face);
  if (before) face.strokes = strokesMoved(face.strokes, before, read.calibration);
  const place = { flitch: flitch.id, slab: target.slabId, face: target.face, photo: target.photoId };
  recordTrace(draft, place, read, { ...read.place, file });
}

/**
 * Takes a photo out of its face, as one step that can be undone; where the face was measured from others besides, it is read again from those.
 * Where they cannot be read, the face keeps what was read of it.
 */
export async function takeOutPhoto(view: StockView, target: Target): Promise<void> {
  const face = facesOf(view.store.job.peek(), target);
  const [next] = face?.photos[target.photoId]?.calibration ? otherMeasured(face, target.photoId) : [];
  if (next) {
    const read = await readPhoto(view, { ...target, photoId: next.id }, { without: target.photoId });
    // Stopped: it stays.
    if (read || !view.trouble.peek()) return;
  }
  view.store.edit('Take out a photo', (draft) => {
    delete facesOf(draft, target)?.photos[target.photoId];
  });
}

/** Gives a photo to the slab that follows, which is added where missing, and reads it there. */
export async function toNextSlab(view: StockView, target: Target): Promise<void> {
  const slabId = slabAfter(view.store.job.peek(), target.slabId) ?? newId();
  view.store.edit('Move a photo to another slab', (draft) => {
    const { photos } = slabIn(draft, target.slabId).faces[target.face];
    const photo = photos[target.photoId];
    if (!photo) return;
    delete photos[target.photoId];
    slabIn(draft, slabId).faces[target.face].photos[target.photoId] = photo;
  });
  view.look(slabId, target.face);
  await readPhoto(view, { ...target, slabId });
}

function summary({ traced }: ReadPhoto): string {
  const count = traced.defects.length;
  const defects =
    count === 0 ? 'no defects seen' : count === 1 ? 'one defect to look at' : `${count} defects to look at`;
  const cut = traced.cutOff.length > 0 ? ` The slab runs out of the picture (${traced.cutOff.join(', ')}).` : '';
  return `Photo read: outline traced, ${defects}.${cut}`;
}

function facesOf(job: Job, { slabId, face }: Target) {
  for (const flitch of Object.values(job.flitches)) if (flitch.slabs[slabId]) return flitch.slabs[slabId].faces[face];
  return null;
}

/** The slab of that id in a draft; added to the last flitch, or to a first one, where it is missing. */
export function slabIn(draft: Job, slabId: string) {
  const flitches = Object.values(draft.flitches);
  const known = flitches.find(({ slabs }) => slabs[slabId])?.slabs[slabId];
  if (known) return known;
  let flitch = flitches.at(-1);
  if (!flitch) {
    flitch = emptyFlitch(newId(), 'Log 1', FIRST_SPECIES);
    draft.flitches[flitch.id] = flitch;
  }
  const place = 1 + Math.max(0, ...Object.values(flitch.slabs).map((slab) => slab.place));
  flitch.slabs[slabId] = emptySlab(slabId, place);
  // Read back: the draft's own object, so that changes to it are recorded.
  return draft.flitches[flitch.id]!.slabs[slabId]!;
}

/** The slab that follows in its flitch, or null. */
function slabAfter(job: Job, slabId: string): string | null {
  const flitch = Object.values(job.flitches).find(({ slabs }) => slabs[slabId]);
  const here = flitch?.slabs[slabId];
  if (!flitch || !here) return null;
  const later = Object.values(flitch.slabs).filter(({ place }) => place > here.place);
  return later.sort((a, b) => a.place - b.place)[0]?.id ?? null;
}

function extension({ type }: File): string {
  return type === 'image/png' ? 'png' : type === 'image/webp' ? 'webp' : 'jpg';
}
