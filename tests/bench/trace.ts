import { readFileSync } from 'node:fs';
import { loadOpenCv } from '../../src/cli/opencv';
import { readPhoto } from '../../src/cli/photo-file';
import { readJob } from '../../src/job';
import { readFace } from '../../src/photo';
import { slabReadings } from '../../src/surface';
import { clockOpencv } from './opencv-clock';

/**
 * How long reading a photo takes against the OpenCV calls that it makes, stage by stage: what is over 1 is our own. Decoding the photo is in
 * neither. Run: npx tsx tests/bench/trace.ts. Ratios are what counts: the machine is shared, and both suffer alike.
 */

const RUNS = 3;
const { cv } = await loadOpenCv();
const clock = clockOpencv(cv);
const job = readJob(JSON.parse(readFileSync('demo-images/job.json', 'utf8')));
const slabs = Object.values(job.flitches).flatMap((flitch) => Object.values(flitch.slabs));

/** What was reached by then, ms: all of it, and OpenCV's share. */
interface Mark {
  readonly note: string;
  readonly all: number;
  readonly opencv: number;
}

for (const slab of slabs) {
  const photo = Object.values(slab.faces.top.photos)[0];
  if (!photo) continue;
  const { raster, focal35 } = await readPhoto(`demo-images/${photo.file}`, photo.file);
  const runs: Mark[][] = [];
  // The first run compiles.
  for (let run = 0; run <= RUNS; run++) {
    const marks: Mark[] = [];
    const mark = (note: string) => marks.push({ note, all: performance.now(), opencv: clock.spent() });
    await readFace(cv, raster, photo.scale, {
      readings: slabReadings(slab).top,
      ...(focal35 !== undefined && { exifFocal35: focal35 }),
      heard: ({ kind }) => {
        if (kind !== 'wood') mark(`${kind} is shown`);
      },
      control: {
        progress: (_, note) => {
          if (note) mark(note);
        },
        cancelled: () => false,
        breathe: async () => {},
      },
    });
    mark('done');
    if (run > 0) runs.push(marks);
  }
  const middle = (of: (marks: Mark[]) => number): number =>
    runs.map(of).sort((a, b) => a - b)[Math.floor(RUNS / 2)] as number;
  const row = (name: string, from: number, to: number): void => {
    const span = (key: 'all' | 'opencv') => middle((marks) => (marks[to]?.[key] ?? 0) - (marks[from]?.[key] ?? 0));
    const [all, opencv] = [span('all'), span('opencv')];
    const ratio = opencv > 5 ? (all / opencv).toFixed(1) : '-';
    console.log(`${name.padEnd(38)}${all.toFixed(0).padStart(8)}${opencv.toFixed(0).padStart(12)}${ratio.padStart(9)}`);
  };
  const notes = (runs[0] as Mark[]).map(({ note }) => note);
  console.log(`\n${photo.file}, ${photo.width} x ${photo.height}      all ms   OpenCV ms    ratio`);
  notes.slice(0, -1).forEach((note, i) => {
    row(note, i, i + 1);
  });
  row('to the preview', 0, notes.indexOf('preview is shown'));
  row('to the outline', 0, notes.indexOf('outline is shown'));
  row('in all (to reach: ratio under 2.5)', 0, notes.length - 1);
}
