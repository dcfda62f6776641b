import { type FaceFeatures, faceFeatures, type WoodFace } from '../grain';
import type { FaceStock } from './stock';

/** Two faces made ready to be looked at together. */
export type LookedAt = readonly [front: FaceFeatures, back: FaceFeatures];

/** The wood of a face as the grain room reads it; what cards hide is masked like a defect. */
function woodFace({ picture, outline, defects, hidden, grainLines }: FaceStock): WoodFace | null {
  if (!picture) return null;
  return { picture, outline, defects: [...defects, ...hidden.map((polygon) => ({ polygon }))], grainLines };
}

/** Pairs that are held read, those asked for last: each takes some 25 MB for slabs of 2.6 m, and a rack has hundreds of them. */
const HELD = 6;

/**
 * The features of two faces, read together; null where one has no picture. A pair is read once, however many tops and parts of a slab ask for it
 * in a row.
 * @param kerf width of the imaginary kerfs in their uncut wood, mm
 */
export function grainOfPairs(kerf: number): (front: FaceStock, back: FaceStock) => LookedAt | null {
  const read = new Map<string, FaceFeatures[]>();
  return (front, back) => {
    const [a, b] = front.key < back.key ? [front, back] : [back, front];
    const [faceA, faceB] = [woodFace(a), woodFace(b)];
    if (!faceA || !faceB) return null;
    const key = `${a.key} ${b.key}`;
    const features = read.get(key) ?? faceFeatures([faceA, faceB], { kerf });
    read.delete(key);
    read.set(key, features);
    const [oldest] = read.keys();
    if (read.size > HELD && oldest !== undefined) read.delete(oldest);
    const [first, second] = features as [FaceFeatures, FaceFeatures];
    return a === front ? [first, second] : [second, first];
  };
}
