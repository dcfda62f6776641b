import { scaleSchema } from '../../job';
import { InputProblem } from '../../units';
import type { Arguments } from '../arguments';
import type { Command } from '../command';
import { readJsonFile } from '../input';
import { type Io, pathOf } from '../io';
import { readBytes } from '../json-file';
import { loadOpenCv } from '../opencv';
import { checkTarget, giveResult, jsonText, OUT } from '../output';
import { decodeToMeasure, toPng } from '../photo-file';
import { watch } from '../watch';

/** A focal length or a pixel's size rounded to 0.001 would be out by a millimetre over a slab. */
const EXACT = ['lens', 'mmPerPx'];

/** The rectified picture that is wanted. @throws InputProblem when only half of it is said */
async function wantedPicture(args: Arguments, io: Io): Promise<{ name: string; mmPerPx: number } | null> {
  const [name, mmPerPx] = [args.text('rectified'), args.number('resolution')];
  if (name === undefined && mmPerPx === undefined) return null;
  if (name === undefined)
    throw new InputProblem('--resolution is given without --rectified.', '--resolution', 'Add --rectified OUT.png.');
  if (mmPerPx === undefined)
    throw new InputProblem(
      '--rectified needs --resolution.',
      '--rectified',
      'Add the mm per pixel, such as --resolution 0.5.',
    );
  if (!(mmPerPx >= 0.05 && mmPerPx <= 50))
    throw new InputProblem(
      `A resolution of ${mmPerPx} mm per pixel is out of range.`,
      '--resolution',
      'Give one from 0.05 to 50.',
    );
  if (name === args.text('out'))
    throw new InputProblem('--rectified and --out name one file.', '--out', 'Name two files.');
  await checkTarget(io, name);
  return { name, mmPerPx };
}

/** What `read` throws about a value in a file, with the file's name in its sentence: two files are read here. */
async function saying<T>(file: string, read: Promise<T>): Promise<T> {
  return read.catch((error: unknown) => {
    if (!(error instanceof InputProblem) || !error.where.startsWith('/')) throw error;
    throw new InputProblem(`${file}: ${error.message}`, error.where, error.mend);
  });
}

export const trace: Command = {
  summary: "A slab's face measured from one photo: outline, defects, grain",
  usage: 'PHOTO --scale SCALE.json [--points POINTS.json] [--rectified OUT.png --resolution MM_PER_PX] [--out FILE]',
  about: `
Calibrates PHOTO (JPEG, PNG, WebP, AVIF or TIFF) by the reference that lies in it, and traces the wood. SCALE.json says what the reference is:
square markers, a sheet of paper, known points, or rods (\`schema trace\` prints the shape of each). POINTS.json names pixels to measure and
pairs of them whose distance is wanted. Pixels are those of the photo as it is seen, its EXIF orientation applied; whole
numbers are pixel centres, (0,0) the centre of the top-left pixel.`,
  exampleInput: `
scale.json:
{"kind":"markers","dictionary":"4x4_50","side":80}`,
  example: 'demo-images/slab-2.jpg --scale scale.json --out slab-2.json',
  options: {
    scale: { value: 'SCALE.json', about: 'What the photo is measured by.' },
    points: { value: 'POINTS.json', about: 'Pixels to measure: {"px":[[u,v], ...],"distances":[[i,j], ...]}.' },
    rectified: { value: 'OUT.png', about: 'Write the face as seen square from above; its place is in the output.' },
    resolution: { value: 'MM_PER_PX', about: 'mm per pixel of that picture.' },
    ...OUT,
  },
  operands: ['PHOTO'],
  async shapes() {
    const { traceOutputSchema, tracePointsSchema } = await import('../../photo');
    return {
      output: traceOutputSchema,
      inputs: { input: scaleSchema, scale: scaleSchema, points: tracePointsSchema },
      exact: { keys: EXACT, because: 'they are multiplied by thousands of pixels' },
    };
  },
  async run(args, io) {
    const { checkPhotoShape, tracePhoto, tracePointsSchema, WHICH_PIECE } = await import('../../photo');
    const [photoName, scaleName] = [args.operands[0] as string, args.needed('scale')];
    const { value: scale } = await saying(scaleName, readJsonFile(io, scaleName, scaleSchema));
    const pointsName = args.text('points');
    const points = pointsName && (await saying(pointsName, readJsonFile(io, pointsName, tracePointsSchema))).value;
    const wanted = await wantedPicture(args, io);
    const bytes = await readBytes(pathOf(io, photoName), photoName);
    const { raster, full, focal35 } = await decodeToMeasure(bytes, photoName);
    checkPhotoShape(full, photoName);
    const { cv } = await loadOpenCv();
    const { output, picture } = await tracePhoto(cv, raster, scale, {
      control: watch(args, io, true),
      full,
      ...(focal35 !== undefined && { exifFocal35: focal35 }),
      ...(points && { points }),
      ...(wanted && { resolution: wanted.mmPerPx }),
    }).catch((error: unknown) => {
      if (!(error instanceof InputProblem) || error.where !== WHICH_PIECE) throw error;
      // No stroke can be drawn here.
      throw new InputProblem(
        error.message,
        photoName,
        'Lay the marks on the slab that you mean, take a photo of it alone, or tap it in the app.',
      );
    });
    const pictures = wanted ? [{ name: wanted.name, bytes: await toPng(picture.raster) }] : [];
    await giveResult(args, io, jsonText({ ...output, rectified: wanted && output.rectified }, EXACT), pictures);
  },
};
