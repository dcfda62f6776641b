import { useState } from 'preact/hooks';
import { bounds, type Point } from '../../../../geometry';
import type { Slab } from '../../../../job';
import { bowOfString, stringGaps } from '../../../../surface';
import { formatLength, formatPlusMinus, InputProblem } from '../../../../units';
import { LengthField } from '../../../parts/fields';
import { FileButton } from '../../../parts/file-button';
import { useUnits } from '../../../parts/job-context';
import type { StockView } from '../view';
import { TAPS } from './string-sheet';

/** Bow from a photo of a string or laser line that was stretched before the slab's edge. */
export function StringCard({ view, slab }: { view: StockView; slab: Slab }) {
  const units = useUnits();
  const [known, setKnown] = useState(1000);
  const held = view.stringPhoto.value;
  const outline = slab.faces.top.outline?.outer;

  async function open([file]: File[]) {
    if (!file) return;
    const image = new Image();
    image.src = URL.createObjectURL(file);
    await image.decode();
    view.stringPhoto.value = { image, points: [] };
  }
  const close = () => {
    if (held) URL.revokeObjectURL(held.image.src);
    view.stringPhoto.value = null;
  };
  if (!held)
    return (
      <details>
        <summary>A string, photographed</summary>
        <div class="stack">
          <p class="small soft">
            Stretch a string (or shine a laser line) from end to end before one edge of the slab, lay something of known
            length beside it, and photograph the edge squarely, from as far away as you can.
          </p>
          <FileButton accept="image/*" onFiles={(files) => void open(files)}>
            Open the photo of the string
          </FileButton>
        </div>
      </details>
    );
  const { points, image } = held;
  const found = outline ? bowFound(points, known, bounds(outline)) : null;
  const next = TAPS[points.length] ?? `the slab's edge, place ${points.length - 3}`;
  const say = (mm: number) => formatLength(mm, units, { decimals: 1, denominator: 32, unit: true });
  return (
    <section class="card stack" aria-label="String">
      <p>
        Tap next: <strong>{next}</strong>.
      </p>
      <LengthField label="The known length" value={known} onChange={setKnown} />
      <div class="row wrap">
        <button
          type="button"
          class="button"
          onClick={() => {
            view.stringPhoto.value = { image, points: [...points, [image.naturalWidth / 2, image.naturalHeight / 2]] };
            view.handle.value = String(points.length);
          }}
        >
          Put it in the middle
        </button>
        <button
          type="button"
          class="button"
          disabled={points.length === 0}
          onClick={() => {
            view.stringPhoto.value = { image, points: points.slice(0, -1) };
          }}
        >
          Take the last back
        </button>
      </div>
      {!outline && <p class="note">Without an outline nobody knows how long the slab is.</p>}
      {found && 'problem' in found && <p class="note">{found.problem}</p>}
      {found && 'bow' in found && (
        <>
          <p>
            Bow over the whole slab: <strong>{say(Math.abs(found.bow))}</strong>{' '}
            {formatPlusMinus(2 * found.sigma, units, { decimals: 1 })}, ends {found.bow >= 0 ? 'high' : 'low'}.
          </p>
          <button
            type="button"
            class="button main"
            onClick={() => {
              view.editSlab(slab.id, 'Take the bow off the string', (draft) => {
                const warp = draft.warp ?? { bow: null, cup: null, twist: null, sigma: found.sigma };
                draft.warp = {
                  ...warp,
                  bow: Math.round(10 * found.bow) / 10,
                  sigma: Math.max(warp.sigma, found.sigma),
                };
              });
              close();
            }}
          >
            Take it as the slab's bow
          </button>
        </>
      )}
      <button type="button" class="button" onClick={close}>
        Close the photo
      </button>
    </section>
  );
}

function bowFound(
  points: readonly Point<'photo'>[],
  mm: number,
  { minX, maxX }: { minX: number; maxX: number },
): { bow: number; sigma: number } | { problem: string } | null {
  const [a, b, c, d, ...edge] = points;
  if (!a || !b || !c || !d) return null;
  try {
    return bowOfString(stringGaps({ known: { ends: [a, b], mm }, string: [c, d], edge }), maxX - minX);
  } catch (problem) {
    if (problem instanceof InputProblem) return { problem: `${problem.message} ${problem.mend}` };
    throw problem;
  }
}
