import type { Calibration, Photo, Scale, Taped } from '../../../../job';
import { InputProblem } from '../../../../units';
import type { StockView } from '../view';
import { draftOf, lacking, nextDraft, scaleOf } from './draft';
import { asGiven, learnLens, lookForLens, usesLens } from './lens';

/** What a photo is read by, before and after. */

/** What a new photo begins with: the reference of the one before; with a draft where something must still be clicked on it. */
export function newReference(view: StockView): Pick<Photo, 'scale' | 'draft'> {
  const next = view.next.peek();
  const scale = scaleOf(next, {});
  if (scale) return { scale };
  return { scale: { kind: 'markers', dictionary: '4x4_50', side: next.side }, draft: structuredClone(next) };
}

/**
 * The scale that a photo is to be read by: as it was typed, its tape checks, and the lens where one is used.
 * @throws InputProblem when something of it lacks; the signal's reason when stopped
 */
export async function scaleToRead(view: StockView, photo: Photo, known?: Blob, signal?: AbortSignal): Promise<Scale> {
  const reference = photo.draft ?? draftOf(photo.scale, view.next.peek());
  const taped = tapedOf(view, photo.id);
  const [lacks] = lacking(reference, taped);
  if (lacks) throw new InputProblem('What lies on the slab is not all there yet.', '', lacks);
  const found = await lookForLens(view, photo, known, signal);
  signal?.throwIfAborted();
  const lens = found && usesLens(reference, found) ? asGiven(found.lens) : undefined;
  // A lens that came with the job from elsewhere stays where nobody has said otherwise.
  const kept = lens ?? (reference.lens === false ? undefined : photo.scale.lens);
  const { distances } = photo.scale;
  return scaleOf(reference, { ...(distances && { distances }), ...(kept && { lens: kept }) }, taped) as Scale;
}

/** What was taped of the slab that a photo shows. */
function tapedOf(view: StockView, photoId: string): Taped | undefined {
  const slabs = Object.values(view.store.job.peek().flitches).flatMap((flitch) => Object.values(flitch.slabs));
  return slabs.find(({ faces }) => faces.top.photos[photoId] ?? faces.bottom.photos[photoId])?.taped;
}

/** Remembers a photo's reference for the next one, and keeps what the photo taught about its lens. */
export async function afterReading(
  view: StockView,
  photo: Photo,
  scale: Scale,
  calibration: Calibration,
): Promise<void> {
  view.next.value = nextDraft(draftOf(scale, view.next.peek()));
  view.lookAt.value = 'face';
  await learnLens(view, photo, scale, calibration);
}
