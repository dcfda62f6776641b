import sharp from 'sharp';
import { type Board, type Door, defaultDoor, emptyFace, emptyJob, type Job, writeJobFile } from '../../src/job';
import { pithOf, type RingBoard, ringFace } from '../leaves/ring-board';

/** A job file with a board that is not sawn yet, both its faces photographed, and a door to be laid on its leaves. Invented. */

const WOOD: RingBoard = { length: 260, width: 120, pith: [40, 52], deep: [85, 90], seed: 3 };
const THICKNESS = 20;

export async function boardJobFile(): Promise<Buffer> {
  const files = new Map<string, Uint8Array<ArrayBuffer>>();
  const face = async (name: string, depth: number, lie: 'same' | 'over') => {
    const { picture, outline } = ringFace(WOOD, depth, lie);
    const { width, height, channels, data } = picture.raster;
    const file = `faces/${name}.jpg`;
    files.set(
      file,
      new Uint8Array(await sharp(data, { raw: { width, height, channels } }).jpeg({ quality: 92 }).toBuffer()),
    );
    const stored = { file, mmPerPx: 1, x0: 0, y0: 0, width, height };
    return { ...emptyFace(), outline: { outer: outline, holes: [] }, picture: stored };
  };
  const [pith, deep] = pithOf(WOOD, 0);
  const angle = (share: number) => Math.round(Math.abs((Math.atan2(share * WOOD.width - pith, deep) * 180) / Math.PI));
  const board: Board = {
    id: 'board-1',
    name: 'Oak board',
    species: 'oak_white',
    length: WOOD.length,
    width: WOOD.width,
    thickness: THICKNESS,
    moisture: 8,
    price: null,
    ringDegrees: [angle(0.1), angle(0.5), angle(0.9)],
    faces: { top: await face('outer', 0, 'same'), bottom: await face('back', THICKNESS, 'over') },
    leaves: {},
  };
  const door: Door = {
    ...defaultDoor('door-1'),
    name: 'Door',
    width: 180,
    height: 200,
    count: 1,
    backed: false,
    at: [[0, 0]],
  };
  const job: Job = {
    ...emptyJob('ahead', 'A board to saw', '2026-11-26'),
    boards: { [board.id]: board },
    doors: { [door.id]: door },
  };
  return Buffer.from(await writeJobFile({ job, files }));
}
