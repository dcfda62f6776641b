import { toJpeg } from '../../src/cli/photo-file';
import { cuttingMap, laidPicture, type Sheet, type SheetRequest, toPdf } from '../../src/cutmap';
import { faceKey } from '../../src/job';
import { seededRandom } from '../../src/search';
import { inventedReport, typeface } from '../cutmap/invented';

/**
 * The papers of two and of ten slabs to PDF, each slab with a photo of 2.7 x 0.65 m that packs as badly as any (noise): time a page of the ten over that of
 * the two (1: no slab makes the others dearer), how often progress is told, size a slab (to stay under: 5 MB), memory (500 MB).
 */

const about = { title: 'Bench', date: '2026-11-25', language: 'en' };

function noise() {
  const random = seededRandom(1).next;
  const [width, height, channels] = [2700, 650, 3] as const;
  return {
    width,
    height,
    channels,
    data: Uint8Array.from({ length: width * height * channels }, () => 90 + 60 * random()),
  };
}

async function request(pairs: number): Promise<SheetRequest> {
  const parts = Array.from({ length: pairs }, (_, i) => inventedReport(i + 2));
  const [{ job, report }] = parts as [(typeof parts)[0]];
  const slabs = parts.flatMap((part, i) => part.report.slabs.map((slab) => ({ ...slab, slab: `${slab.slab}-${i}` })));
  const tops = parts.flatMap((part, i) => part.report.tops.map((top) => ({ ...top, id: `${top.id}-${i}` })));
  const faces = new Map<string, Awaited<ReturnType<typeof laidPicture>>>();
  for (const { flitch, slab, face } of slabs) {
    const picture = await laidPicture({ raster: noise(), mmPerPx: 1, x0: 0, y0: -325 }, async (raster) => {
      return { type: 'jpeg', bytes: await toJpeg(raster), width: raster.width, height: raster.height };
    });
    faces.set(faceKey(flitch, slab, face), picture);
  }
  return { job, report: { ...report, slabs, tops }, paper: 'A4', typeface: await typeface(), faces, tops: new Map() };
}

async function drawn(pairs: number) {
  const asked = await request(pairs);
  const before = process.cpuUsage();
  const sheets: readonly Sheet[] = cuttingMap(asked).sheets;
  let told = 0;
  const pdf = await toPdf(sheets, asked.typeface, about, async () => {
    told++;
  });
  const { user, system } = process.cpuUsage(before);
  return { pages: sheets.length, told, seconds: (user + system) / 1e6, megabytes: pdf.length / 1e6 / (2 * pairs) };
}

await drawn(1);
const [two, ten] = [await drawn(1), await drawn(5)];
const share = ten.seconds / ten.pages / (two.seconds / two.pages);
const memory = process.resourceUsage().maxRSS / 1024;
console.log(
  `papers of ten slabs: ${ten.pages} pages in ${ten.seconds.toFixed(1)} s of processor, progress told ${ten.told} times; a page costs ${share.toFixed(2)} of one of two slabs; ` +
    `${ten.megabytes.toFixed(1)} MB a slab; at most ${memory.toFixed(0)} MB of memory`,
);
