import { readFile } from 'node:fs/promises';
import { createRequire } from 'node:module';
import {
  cuttingMap,
  type EncodedImage,
  type LaidPicture,
  laidPicture,
  loadTypeface,
  MM_PER_PX,
  mapFiles,
  type PaperName,
  previewName,
} from '../cutmap';
import type { Job } from '../job';
import { type PlanReport, panelPictures, planDocument, topPicture } from '../plan';
import type { FacePicture, Raster } from '../raster';
import type { Control } from '../search';
import { jsonText, type OutFile } from './output';
import { toJpeg, toPng } from './photo-file';

/** An affine map's slopes and the plane of a board count over metres. */
export const EXACT = ['a', 'b', 'toTop'];

async function typeface() {
  const { resolve } = createRequire(import.meta.url);
  const font = (name: string) => readFile(resolve(`dejavu-fonts-ttf/ttf/${name}.ttf`));
  return loadTypeface(await font('DejaVuSansCondensed'), await font('DejaVuSansCondensed-Bold'));
}

const asJpeg = async (raster: Raster): Promise<EncodedImage> => {
  const { width, height } = raster;
  return { type: 'jpeg', bytes: await toJpeg(raster), width, height };
};

/**
 * Every file of a plan: `plan.json`, the cutting map as PDF and SVG, a DXF of each slab and panel, tables as CSV, a PNG of each top and panel. The same job and plan
 * give the same bytes.
 * @throws Cancelled when called off
 */
export async function planFiles(
  job: Job,
  report: PlanReport,
  pictures: ReadonlyMap<string, FacePicture>,
  leaves: ReadonlyMap<string, FacePicture>,
  paper: PaperName,
  control: Control,
): Promise<OutFile[]> {
  const faces = new Map<string, LaidPicture>();
  for (const [key, picture] of pictures) faces.set(key, await laidPicture(picture, asJpeg));
  const tops = new Map<string, LaidPicture>();
  const previews: OutFile[] = [];
  for (const top of report.tops) {
    const picture = topPicture(top.placement, pictures, MM_PER_PX);
    if (!picture) continue;
    tops.set(top.id, await laidPicture(picture, asJpeg));
    previews.push({ name: previewName(report, top), bytes: await toPng(picture.raster) });
  }
  const panels = new Map<string, LaidPicture>();
  const kept = job.sets[job.keptSet ?? ''];
  if (kept) {
    for (const [front, picture] of panelPictures(job, kept, leaves, MM_PER_PX)) {
      panels.set(front, await laidPicture(picture, asJpeg));
      previews.push({ name: `panel-${front}.png`, bytes: await toPng(picture.raster) });
    }
  }
  const face = await typeface();
  const cutsAnything = report.slabs.length + report.boards.length > 0;
  const about = { title: job.name, date: job.date, language: 'en' };
  const request = { report, job, paper, typeface: face, faces, tops, panels };
  const pages = cutsAnything ? await mapFiles(cuttingMap(request), face, about, control) : [];
  const others: OutFile[] = [...pages, ...previews];
  const document = planDocument(report, others.map(({ name }) => name).sort());
  return [{ name: 'plan.json', bytes: jsonText(document, EXACT) }, ...others];
}
