import type { FaceName, Job, PanelSet } from '../job';
import type { BenchLeaf } from '../leaves';
import { composeTop, type FacePicture } from '../raster';
import { benchLeaves } from './bench';

/**
 * The face of every front of a set as its leaves' photos show it, by front, in the frame of the pressed panel; none for a front of which no leaf has a picture.
 * @param pictures by `leafKey`, each in its own face's frame
 * @param mmPerPx resolution of the pictures
 */
export function panelPictures(
  job: Job,
  set: PanelSet,
  pictures: ReadonlyMap<string, FacePicture>,
  mmPerPx: number,
): Map<string, FacePicture> {
  const leaves = new Map(benchLeaves(job, pictures).map((leaf) => [`${leaf.board} ${leaf.leaf}`, leaf]));
  const out = new Map<string, FacePicture>();
  for (const [id, { cells }] of Object.entries(set.fronts)) {
    const pieces = cells.flatMap(({ board, leaf, face, toPanel, cell }) => {
      const picture = shown(leaves.get(`${board} ${leaf}`), face);
      return picture ? [{ picture, toTop: { m: toPanel }, polygon: cell }] : [];
    });
    if (pieces.length > 0) out.set(id, composeTop(pieces, mmPerPx));
  }
  return out;
}

/** The picture of a face, or of the other one where only that was photographed. */
function shown(leaf: BenchLeaf | undefined, face: FaceName): FacePicture | null {
  const [own, other] = face === 'top' ? [leaf?.top, leaf?.bottom] : [leaf?.bottom, leaf?.top];
  return own?.picture ?? other?.picture ?? null;
}
