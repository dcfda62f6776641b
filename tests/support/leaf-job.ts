import sharp from 'sharp';
import {
  type Board,
  type Door,
  defaultDoor,
  emptyFace,
  emptyJob,
  type Job,
  type Leaf,
  writeJobFile,
} from '../../src/job';
import type { Raster } from '../../src/raster';
import { leafPictures } from '../leaves/rendered-leaves';

/** A job file with a board whose leaves are drawn and photographed, and three fronts to be laid on them: a pair of doors under a drawer. Invented. */

export const LEAF = { length: 900, width: 170 };
const DRIFT = [0, 1.5] as const;

const jpeg = async (raster: Raster) =>
  new Uint8Array(
    await sharp(raster.data, { raw: { width: raster.width, height: raster.height, channels: raster.channels } })
      .jpeg({ quality: 90 })
      .toBuffer(),
  );

/** The job file's bytes. @param count leaves of the board */
export async function leafJobFile(count: number, doors: readonly Partial<Door>[] = DOORS): Promise<Buffer> {
  const files = new Map<string, Uint8Array<ArrayBuffer>>();
  const leaves: Record<string, Leaf> = {};
  for (const [i, { picture, outline }] of leafPictures(count, { ...LEAF, drift: DRIFT }).entries()) {
    const id = `leaf-${i + 1}`;
    const file = `faces/${id}.jpg`;
    files.set(file, await jpeg(picture.raster));
    const { width, height } = picture.raster;
    const top = {
      ...emptyFace(),
      outline: { outer: outline, holes: [] },
      picture: { file, mmPerPx: 1, x0: 0, y0: 0, width, height },
    };
    leaves[id] = { id, place: i + 1, faces: { top, bottom: emptyFace() } };
  }
  const board: Board = {
    id: 'board-1',
    name: 'Oak board',
    species: 'oak_white',
    length: LEAF.length,
    width: LEAF.width,
    thickness: 45,
    moisture: 8,
    price: null,
    leaves,
  };
  const wanted = doors.map((door, i): Door => ({ ...defaultDoor(`door-${i + 1}`), ...door }));
  const job: Job = {
    ...emptyJob('leaves', 'Leaves and doors', '2026-11-26'),
    boards: { [board.id]: board },
    doors: Object.fromEntries(wanted.map((door) => [door.id, door])),
  };
  return Buffer.from(await writeJobFile({ job, files }));
}

const DOORS: readonly Partial<Door>[] = [
  {
    name: 'Doors',
    width: 280,
    height: 380,
    count: 2,
    at: [
      [0, 143],
      [283, 143],
    ],
  },
  { name: 'Drawer', width: 563, height: 140, count: 1, match: 'slip', at: [[0, 0]] },
];
