import { bounds, crossesItself, type Point, type Polygon } from '../../../geometry';
import type { Top, TopShape } from '../../../job';
import { formatLength, InputProblem, parseLength, type UnitSystem } from '../../../units';
import { ChoiceField } from '../../parts/fields';
import { useUnits } from '../../parts/job-context';
import { TypedField } from '../../parts/typed-field';
import type { TopEditor } from './edit-top';

type Kind = TopShape['kind'] | 'rectangle';

const KINDS: readonly (readonly [Kind, string])[] = [
  ['rectangle', 'rectangle'],
  ['round', 'round'],
  ['oval', 'oval'],
  ['polygon', 'by its corners'],
];

/** Corners that a new drawing begins with: the rectangle, one corner cut off so that it is seen to be another shape. */
const beginning = ({ length, depth }: Top): Polygon<'top'> => [
  [0, 0],
  [length, 0],
  [length, depth[1]],
  [length / 4, depth[1]],
  [0, depth[1] / 2],
];

/** The shape of a top. */
export function ShapeFields({ top, editor: { edit } }: { top: Top; editor: TopEditor }) {
  const units = useUnits();
  const { shape } = top;
  const choose = (kind: Kind) =>
    edit('Shape', (own) => {
      own.shape = kind === 'rectangle' ? null : kind === 'polygon' ? { kind, outline: beginning(own) } : { kind };
    });
  return (
    <div class="stack">
      <div class="fields">
        <ChoiceField label="Shape" value={shape?.kind ?? 'rectangle'} options={KINDS} onChange={choose} />
      </div>
      {shape?.kind === 'round' && <p class="small soft">Its length is its diameter.</p>}
      {shape?.kind === 'oval' && <p class="small soft">It fills its length and its most depth.</p>}
      {shape?.kind === 'polygon' && (
        <>
          <TypedField<Polygon<'top'>>
            label="Corners, each as far from the left and from the front"
            unit={units}
            value={shape.outline}
            print={(outline) => printCorners(outline, units)}
            read={(text) => readCorners(text, units)}
            onChange={(outline) =>
              edit('Corners', (own) => {
                if (own.shape?.kind === 'polygon') own.shape.outline = outline;
              })
            }
          />
          <p class="small soft">
            One after the other around the shape, with a semicolon between: 0, 0; 1200, 0; 1200, 700; 0, 500. The
            corners can be dragged on the drawing, too.
          </p>
        </>
      )}
    </div>
  );
}

/** Corners as one types them: from the left front corner, x to the right. In the top's frame x runs to the left. */
function printCorners(outline: Polygon<'top'>, units: UnitSystem): string {
  const { maxX, minY } = bounds(outline);
  const say = (mm: number): string => formatLength(mm, units, { as: 'typed' });
  return outline.map(([x, y]) => `${say(maxX - x)}, ${say(y - minY)}`).join('; ');
}

/** @throws InputProblem for what is no ring of corners */
function readCorners(text: string, units: UnitSystem): Polygon<'top'> {
  const corners = text
    .split(';')
    .filter((corner) => corner.trim() !== '')
    .map((corner, i) => {
      const parts = corner.split(/,\s+|\t/);
      if (parts.length !== 2)
        throw new InputProblem(
          `Corner ${i + 1} is not two lengths.`,
          '',
          'Type how far it is from the left, a comma and a space, and how far from the front.',
        );
      return parts.map((part) => parseLength(part.trim(), units)) as [number, number];
    });
  if (corners.length < 3)
    throw new InputProblem('A shape has at least three corners.', '', 'Type them with a semicolon between.');
  const right = Math.max(...corners.map(([x]) => x));
  const outline = corners.map(([x, y]): Point<'top'> => [right - x, y]);
  if (crossesItself(outline))
    throw new InputProblem('The outline crosses itself.', '', 'Put the corners in order around the shape.');
  return outline;
}
