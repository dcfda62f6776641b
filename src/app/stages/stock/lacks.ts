import { isProposed, type Slab } from '../../../job';

/** What a slab still lacks before it can be laid out, in words; null when it has all. */
export function lacks(slab: Slab): string | null {
  const { taped } = slab;
  const { top } = slab.faces;
  if (!top.outline && Object.keys(top.photos).length > 0) return 'Photo not read yet.';
  if (!top.outline) return taped ? 'From a tape only: photograph it before you cut.' : 'No photo or outline yet.';
  if (Object.keys(slab.spots).length === 0) return 'No readings yet.';
  if (Object.values(slab.faces).some((face) => Object.values(face.defects).some(isProposed)))
    return 'Defects to look at.';
  return null;
}
