import { faceKey, type Placement } from '../job';
import { type Pictures, stripInTop, stripMap } from '../layout';
import { composeTop, type FacePicture } from '../raster';

/**
 * The finished, seamed top as its slabs' photos show it, in the top's frame; null where no strip has a picture.
 * @param mmPerPx resolution of the picture
 */
export function topPicture(placement: Placement, pictures: Pictures, mmPerPx: number): FacePicture | null {
  const pieces = placement.strips.flatMap((strip) => {
    const picture = pictures.get(faceKey(strip.flitch, strip.slab, strip.face));
    return picture ? [{ picture, toTop: stripMap(strip), polygon: stripInTop(strip) }] : [];
  });
  return pieces.length === 0 ? null : composeTop(pieces, mmPerPx);
}
