import { type Affine, affine, apply, bounds, type Point, type Polygon } from '../geometry';
import type { Board, Face, FaceName, Job, Leaf } from '../job';
import type { BenchLeaf, BenchRules, LeafFace } from '../leaves';
import type { FacePicture, Raster } from '../raster';

/** Leaves of the job as they are laid on the bench, in the frames that sets are in. */

/** Key of a leaf's face, for pictures: 'board/leaf/top'. */
export const leafKey = (board: string, leaf: string, face: FaceName): string => `${board}/${leaf}/${face}`;

/** Planed off each edge of a leaf that is jointed, mm (practice). */
const JOINTING = 1;

/** What the shop's saws take of a leaf: between two facing sides lie the resaw's kerf, what is dressed, and what both faces are sanded by. */
export function benchRules({ shop }: Pick<Job, 'shop'>): BenchRules {
  const { kerf, dressing, leaf } = shop.resaw;
  return { kerf: kerf + dressing + leaf.sanding, crosscut: shop.kerf.fine, jointing: JOINTING, loose: null };
}

/**
 * From the far face's own frame, as it was photographed, to the frame of the top face, seen through the wood: the leaf was turned over about its length, so
 * both begin at its marked end. Their boxes lie on each other.
 */
export function farFaceMap({ faces }: Leaf): Affine<'face', 'face'> {
  const far = faces.bottom.outline?.outer;
  if (!far) return affine(1, 0, 0, 1, 0, 0);
  const from = bounds(far);
  const own = faces.top.outline?.outer;
  const to = own ? bounds(own) : from;
  const across = (to.minY + to.maxY + from.minY + from.maxY) / 2;
  return affine(1, 0, 0, -1, (to.minX + to.maxX - from.minX - from.maxX) / 2, across);
}

/** The leaves of all boards that have an outline. @param pictures by `leafKey`, each in its own face's frame */
export function benchLeaves(job: Pick<Job, 'boards'>, pictures: ReadonlyMap<string, FacePicture>): BenchLeaf[] {
  return Object.values(job.boards).flatMap((board) =>
    Object.values(board.leaves).flatMap((leaf): BenchLeaf[] => benchLeaf(board, leaf, pictures) ?? []),
  );
}

function benchLeaf(board: Board, leaf: Leaf, pictures: ReadonlyMap<string, FacePicture>): BenchLeaf[] | null {
  const { top, bottom } = leaf.faces;
  const at = (face: FaceName) => pictures.get(leafKey(board.id, leaf.id, face)) ?? null;
  const far = bottom.outline ? farFace(bottom, bottom.outline.outer, at('bottom'), farFaceMap(leaf)) : null;
  const own = top.outline
    ? { picture: at('top'), outline: top.outline.outer, defects: Object.values(top.defects) }
    : null;
  const shown = own ?? (far && { ...far, picture: null, defects: [] });
  return shown && [{ board: board.id, leaf: leaf.id, place: leaf.place, top: shown, bottom: far }];
}

/** A far face in the frame of the top face. */
function farFace(
  { defects }: Face,
  outline: Polygon<'face'>,
  picture: FacePicture | null,
  map: Affine<'face', 'face'>,
): LeafFace {
  const moved = (ring: Polygon<'face'>): Point<'face'>[] => ring.map((p) => apply(map, p));
  return {
    picture: picture && mirrored(picture, map),
    outline: moved(outline),
    defects: Object.values(defects).map(({ polygon, line, ...rest }) => ({
      ...rest,
      ...(polygon && { polygon: moved(polygon) }),
      ...(line && {
        line: line.map(([x, y, width]) => [...(apply(map, [x, y] as Point<'face'>) as [number, number]), width]),
      }),
    })) as LeafFace['defects'],
  };
}

/** A picture mirrored across the grain, as the map says. */
function mirrored({ raster, mmPerPx, x0, y0 }: FacePicture, map: Affine<'face', 'face'>): FacePicture {
  const { width, height, channels, data } = raster;
  const out = new Uint8ClampedArray(data.length);
  const row = width * channels;
  for (let r = 0; r < height; r++) out.set(data.subarray(r * row, (r + 1) * row), (height - 1 - r) * row);
  const flipped: Raster = { width, height, channels, data: out };
  const [x, y] = apply(map, [x0, y0 + height * mmPerPx] as Point<'face'>);
  return { raster: flipped, mmPerPx, x0: x, y0: y };
}
