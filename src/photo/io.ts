import * as v from 'valibot';
import { calibrationSchema, shapes } from '../job';

/** What the `trace` command takes beside the scale, and what it gives (COMMANDS, trace). */

const { finite, positive, notNegative, point, polygon, crackLine } = shapes;

const wholePositive = v.pipe(v.number(), v.integer(), v.minValue(1));
const confidence = v.pipe(finite, v.minValue(0), v.maxValue(1));
const index = v.pipe(
  v.number('must be a number'),
  v.integer('must be a whole number'),
  v.minValue(0, 'must not be less than 0'),
);

export const tracePointsSchema = v.pipe(
  v.strictObject({
    px: v.pipe(v.array(point<'photo'>()), v.description('Points to measure; whole numbers are pixel centres')),
    distances: v.optional(
      v.pipe(
        v.array(v.strictTuple([index, index], 'must be a pair of indices of px [i, j]')),
        v.description('Pairs of points, by their place in px from 0, whose distance is wanted'),
      ),
      [],
    ),
  }),
  v.rawCheck(({ dataset, addIssue }) => {
    if (!dataset.typed) return;
    const { px, distances } = dataset.value;
    distances.forEach((pair, i) => {
      const j = pair.findIndex((n) => n >= px.length);
      if (j < 0) return;
      const step = (input: object, key: string | number, value: unknown) =>
        ({ type: 'unknown', origin: 'value', input, key, value }) as const;
      addIssue({
        message: `must be less than the number of points, ${px.length}`,
        path: [step(dataset.value, 'distances', distances), step(distances, i, pair), step(pair, j, pair[j])],
      });
    });
  }),
);

const defect = v.variant('kind', [
  v.strictObject({ kind: v.literal('crack'), line: crackLine, confidence }),
  v.strictObject({
    kind: v.picklist(['knot', 'void', 'bark inclusion', 'stain']),
    polygon: polygon<'face'>(),
    confidence,
  }),
]);

const { residualPx, sigma, lens, outliers } = calibrationSchema.entries;

export const traceOutputSchema = v.strictObject({
  photo: v.pipe(
    v.strictObject({ width: wholePositive, height: wholePositive }),
    v.description('Size in pixels as the photo is seen, its orientation applied'),
  ),
  calibration: v.strictObject({ residualPx, sigma, lens, outliers }),
  outline: v.pipe(polygon<'face'>(), v.description("The wood's edge on this face, bark left out")),
  bark: v.pipe(v.nullable(polygon<'face'>()), v.description('The outer edge of the bark, where it can be told')),
  outlineSigma: v.pipe(notNegative, v.description('One standard deviation of the outline, mm')),
  sapwood: v.array(polygon<'face'>()),
  defects: v.array(defect),
  points: v.array(v.strictObject({ px: point<'photo'>(), mm: point<'face'>(), sigma: notNegative })),
  distances: v.array(v.strictObject({ mm: notNegative, sigma: notNegative })),
  rectified: v.pipe(
    v.nullable(v.strictObject({ mmPerPx: positive, x0: finite, y0: finite })),
    v.description('The centre of pixel (c, r) lies at (x0 + (c + 0.5) mmPerPx, y0 + (r + 0.5) mmPerPx)'),
  ),
  grain: v.pipe(
    v.strictObject({
      step: positive,
      x0: finite,
      y0: finite,
      columns: v.pipe(v.number(), v.integer(), v.minValue(0)),
      angles: v.pipe(
        v.array(v.nullable(v.pipe(finite, v.minValue(-90), v.maxValue(90)))),
        v.description('Degrees from +x to +y, row by row; null where there is no grain to read'),
      ),
    }),
    v.description('Node (c, r) lies at (x0 + c step, y0 + r step)'),
  ),
});
