import type { BlankSurfaces } from '../flattening';
import { type Affine, difference, offset, type Region } from '../geometry';
import {
  atHand,
  type Defect,
  type Face,
  type Flitch,
  faceKey,
  HAND_SIGMA,
  type Job,
  type Slab,
  type Strip,
  slabsInOrder,
} from '../job';
import type { FacePicture } from '../raster';
import { type Memo, slabReadings, slabSurfaces, smoothFaces } from '../surface';
import { defectArea } from './defect-area';
import { fromFarFace } from './far-face';
import { type KeptOff, keptOff } from './kept-off';

/** A face of a slab, made ready for laying tops on it. All in the frame of that face, mm. */
export interface FaceStock {
  /** 'flitch/slab/face': the key of pictures, and of conflicts between pieces. */
  readonly key: string;
  readonly flitch: Flitch;
  readonly slab: Slab;
  readonly face: 'top' | 'bottom';
  /** The wood's edge. */
  readonly outline: Region<'face'>;
  /** Two sigma of the outline: how far a straight edge stays inside it. */
  readonly margin: number;
  /** The wood less its margin, defects and all. */
  readonly inside: readonly Region<'face'>[];
  /** What must be kept off, and why, margin included. */
  readonly keptOff: readonly KeptOff[];
  /** All of it together. */
  readonly forbidden: readonly Region<'face'>[];
  /** What its sapwood covers, as far as it is known, margin included. */
  sapwood(): readonly Region<'face'>[];
  /** Null until the face has been photographed. */
  readonly picture: FacePicture | null;
  readonly defects: readonly Defect[];
  /** Where cards hide the wood in the picture. */
  readonly hidden: Face['hidden'];
  /** Lines drawn by hand along the grain. */
  readonly grainLines: Face['grainLines'];
  /** Both faces by the model of warp, in the frame of the top face; null without readings of both. Fitted when first asked for: it takes a while. */
  surfaces(): BlankSurfaces | null;
  /** The same as flat facets between the readings: quick, and too thick rather than too thin, so good for a first sieve. */
  facets(): BlankSurfaces | null;
  /** From this face to the top face of the slab, whose frame the readings have. */
  readonly toReadings: Affine<'face', 'face'> | null;
}

/** Pictures by the key of their face. */
export type Pictures = ReadonlyMap<string, FacePicture>;

const IDENTITY: Affine<'face', 'face'> = { m: [1, 0, 0, 1, 0, 0] };

/** Both faces of a slab by the model of warp, which knows what it does not know between readings; null without readings of both. */
export function surfacesOf(slab: Slab, memo?: Memo): BlankSurfaces | null {
  const { top, bottom } = slabReadings(slab);
  return top.length > 0 && bottom.length > 0 ? smoothFaces(top, bottom, memo) : null;
}

/** What `make` gives, made at the first call. */
export function once<T>(make: () => T): () => T {
  let made: { readonly value: T } | undefined;
  return () => {
    made ??= { value: make() };
    return made.value;
  };
}

/** The faces that strips are cut from, in their order; null where one of them is gone. */
export function stockOf(strips: readonly Strip[], stock: readonly FaceStock[]): FaceStock[] | null {
  const faces = strips.map(({ flitch, slab, face }) => stock.find(({ key }) => key === faceKey(flitch, slab, face)));
  return faces.every((face) => face !== undefined) ? faces : null;
}

/** The faces of those slabs that tops are laid on: what is on offer while there is wood of one's own, or was sold, is left out. */
export function stockAtHand(job: Job, pictures: Pictures): FaceStock[] {
  const mayBeCut = atHand(job);
  return prepareStock(job, pictures).filter(({ slab }) => mayBeCut(slab));
}

/** Every face of the job that has an outline, made ready. */
export function prepareStock(job: Job, pictures: Pictures): FaceStock[] {
  const stock: FaceStock[] = [];
  for (const flitch of Object.values(job.flitches)) {
    for (const slab of slabsInOrder(flitch)) {
      const [surfaces, facets] = [once(() => surfacesOf(slab)), once(() => slabSurfaces(slab))];
      for (const side of ['top', 'bottom'] as const) {
        const face = slab.faces[side];
        if (!face.outline) continue;
        const margin = 2 * (face.outlineSigma ?? HAND_SIGMA);
        const defects = Object.values(face.defects);
        const off = keptOff(slab, side, margin);
        const key = faceKey(flitch.id, slab.id, side);
        const toReadings = side === 'top' ? IDENTITY : slab.tie ? fromFarFace(slab.tie) : null;
        stock.push({
          key,
          flitch,
          slab,
          face: side,
          outline: face.outline,
          margin,
          inside: offset([face.outline], -margin),
          keptOff: off,
          forbidden: off.flatMap(({ area }) => area),
          sapwood: once(() => face.sapwood.flatMap((polygon) => defectArea({ polygon }, margin))),
          picture: pictures.get(key) ?? null,
          defects,
          hidden: face.hidden,
          grainLines: face.grainLines,
          surfaces,
          facets,
          toReadings,
        });
      }
    }
  }
  return stock;
}

/** A face without what is kept off for one reason. */
export function without(stock: FaceStock, why: KeptOff['why']): FaceStock {
  const off = stock.keptOff.filter((one) => one.why !== why);
  return { ...stock, keptOff: off, forbidden: off.flatMap(({ area }) => area) };
}

/** The wood that a finished piece may be cut from: inside the margin and off what must be kept off. */
export function usable(stock: FaceStock): Region<'face'>[] {
  return difference(stock.inside, stock.forbidden);
}
