import type { BlankFlattening } from '../../../flattening';
import { formatDuration, formatLength, formatShare, formatThin } from '../../../units';
import { useUnits } from '../../parts/job-context';
import type { PassShown } from './contact-items';

const FACES = { top: 'Upper face', bottom: 'Underside' } as const;
const TOOLS = { sled: 'on the sled', planer: 'through the planer', 'drum sander': 'through the drum sander', none: '' };

type FaceOfBlank = BlankFlattening['faces'][number];

interface PassTableProps {
  work: FaceOfBlank;
  /** Which pass is hatched on the photo. */
  shown: PassShown | null;
  onShow(shown: PassShown | null): void;
}

/** The passes of one face; each can be shown on the photo. */
export function PassTable({ work, shown, onShow }: PassTableProps) {
  const units = useUnits();
  const say = (mm: number) => formatLength(mm, units, { decimals: 1 });
  const { face, passes, strokes, minutes, removed, chips, metres, cutting, tool, load } = work;
  return (
    <section class="card" aria-label={`Passes, ${FACES[face]}`}>
      <h2>
        {FACES[face]} {TOOLS[tool]}
      </h2>
      {passes.length === 0 ? (
        <p>Needs no pass.</p>
      ) : (
        <>
          <table class="figures">
            <thead>
              <tr>
                <th scope="col">pass</th>
                <th scope="col">depth</th>
                <th scope="col">cuts of the face</th>
                <th scope="col">
                  <span class="hidden-text">On the photo</span>
                </th>
              </tr>
            </thead>
            <tbody>
              {passes.map(({ depth, contact }, i) => {
                const on = shown?.face === face && shown.index === i;
                return (
                  <tr key={i}>
                    <th scope="row">{i + 1}</th>
                    <td>{say(depth)}</td>
                    <td>{formatShare(contact)}</td>
                    <td>
                      <button
                        type="button"
                        class="button quiet"
                        aria-pressed={on}
                        aria-label={`Show where pass ${i + 1} of the ${FACES[face].toLowerCase()} cuts`}
                        onClick={() => onShow(on ? null : { face, index: i })}
                      >
                        {on ? 'hide' : 'show'}
                      </button>
                    </td>
                  </tr>
                );
              })}
            </tbody>
          </table>
          <p class="small soft">
            {tool === 'sled' && `${strokes} strokes a pass, `}
            {formatDuration(minutes * 60)}, {removed.toFixed(1)} litres of wood, {Math.ceil(chips)} of loose chips.
          </p>
          {tool === 'sled' && (
            <p class="small soft">
              The bit runs {Math.round(metres)} m and meets wood on {Math.round(cutting)} m.
              {load?.perEdge != null &&
                ` At ${load.rpm} turns a minute each edge takes ${formatThin(load.perEdge, units)} a turn.`}{' '}
              The speed marked on the bit rules.
            </p>
          )}
        </>
      )}
    </section>
  );
}
