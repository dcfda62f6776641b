import { readFile } from 'node:fs/promises';
import { createRequire } from 'node:module';
import {
  type CuttingMap,
  cuttingMap,
  type LaidPicture,
  loadTypeface,
  type PaperName,
  toCsv,
  toDxf,
  toPdf,
  toSvg,
} from '../cutmap';
import type { Job } from '../job';
import { type PlanReport, panelPictures, planDocument, topPicture } from '../plan';
import { type FacePicture, resample } from '../raster';
import { jsonText, type OutFile } from './output';
import { toJpeg, toPng } from './photo-file';

/** Of the photos behind the drawings, and of the previews: a slab of 2.7 m is then 2,700 pixels wide. */
const MM_PER_PX = 1;

/** An affine map's slopes and the plane of a board count over metres. */
export const EXACT = ['a', 'b', 'toTop'];

async function typeface() {
  const { resolve } = createRequire(import.meta.url);
  const font = (name: string) => readFile(resolve(`dejavu-fonts-ttf/ttf/${name}.ttf`));
  return loadTypeface(await font('DejaVuSansCondensed'), await font('DejaVuSansCondensed-Bold'));
}

/** A picture no finer than the sheets and previews show it. */
const shown = (picture: FacePicture): FacePicture =>
  picture.mmPerPx < MM_PER_PX ? resample(picture, MM_PER_PX) : picture;

async function laid({ raster, mmPerPx, x0, y0 }: FacePicture): Promise<LaidPicture> {
  const { width, height } = raster;
  return { image: { type: 'jpeg', bytes: await toJpeg(raster), width, height }, mmPerPx, x0, y0 };
}

/** The pages as files. A plan that cuts nothing has none. */
async function mapFiles(
  map: CuttingMap,
  face: Awaited<ReturnType<typeof typeface>>,
  { job }: PlanReport,
): Promise<OutFile[]> {
  const about = { title: job.name, date: job.date, language: 'en' };
  return [
    { name: 'cutting-map.pdf', bytes: await toPdf(map.sheets, face, about) },
    ...map.sheets.map((sheet) => ({ name: `${sheet.name}.svg`, bytes: toSvg(sheet, face) })),
    ...(await Promise.all(
      map.drawings.map(async (sheet) => ({ name: `${sheet.name}.dxf`, bytes: await toDxf(sheet) })),
    )),
    ...map.tables.map((table) => ({ name: `${table.name}.csv`, bytes: toCsv(table) })),
  ];
}

/**
 * Every file of a plan: `plan.json`, the cutting map as PDF and SVG, a DXF of each slab and panel, tables as CSV, a PNG of each top and panel. The same job and plan
 * give the same bytes.
 */
export async function planFiles(
  job: Job,
  report: PlanReport,
  pictures: ReadonlyMap<string, FacePicture>,
  leaves: ReadonlyMap<string, FacePicture>,
  paper: PaperName,
): Promise<OutFile[]> {
  const faces = new Map<string, LaidPicture>();
  for (const [key, picture] of pictures) faces.set(key, await laid(shown(picture)));
  const tops = new Map<string, LaidPicture>();
  const previews: OutFile[] = [];
  for (const { id, placement } of report.tops) {
    const picture = topPicture(placement, pictures, MM_PER_PX);
    if (!picture) continue;
    tops.set(id, await laid(picture));
    previews.push({ name: `top-${id}.png`, bytes: await toPng(picture.raster) });
  }
  const panels = new Map<string, LaidPicture>();
  const kept = job.sets[job.keptSet ?? ''];
  if (kept) {
    for (const [front, picture] of panelPictures(job, kept, leaves, MM_PER_PX)) {
      panels.set(front, await laid(picture));
      previews.push({ name: `panel-${front}.png`, bytes: await toPng(picture.raster) });
    }
  }
  const face = await typeface();
  const cutsAnything = report.slabs.length + report.boards.length > 0;
  const pages = cutsAnything
    ? await mapFiles(cuttingMap({ report, job, paper, typeface: face, faces, tops, panels }), face, report)
    : [];
  const others = [...pages, ...previews];
  const document = planDocument(report, others.map(({ name }) => name).sort());
  return [{ name: 'plan.json', bytes: jsonText(document, EXACT) }, ...others];
}
