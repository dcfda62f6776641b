import { useLayoutEffect, useMemo, useRef, useState } from 'preact/hooks';
import { bounds } from '../../../../geometry';
import type { Slab } from '../../../../job';
import type { Question } from '../../../../surface';
import { InputProblem, parseLength, type UnitSystem } from '../../../../units';
import { LengthField } from '../../../parts/fields';
import { useUnits } from '../../../parts/job-context';
import type { StockView } from '../view';
import { type Box, boxesOf, turned, typedIn } from './boxes';

const SAYS: Readonly<Record<Box['which'], string>> = {
  top: 'Drop to the upper face',
  thickness: 'Thickness',
  bottom: 'Drop to the underside',
};

interface ThumbEntryProps {
  view: StockView;
  slab: Slab;
  underside: boolean;
  asked: readonly Question[];
}

/** One box after the other, for one thumb: what is typed is kept with Enter, which goes on to the next. */
export function ThumbEntry({ view, slab, underside, asked }: ThumbEntryProps) {
  const units = useUnits();
  const boxes = useMemo(() => boxesOf(slab, underside), [slab.spots, underside]);
  const [place, setPlace] = useState(() =>
    Math.max(
      0,
      boxes.findIndex((box) => typedIn(slab, box) === null),
    ),
  );
  const [walked, setWalked] = useState(false);
  const host = useRef<HTMLFormElement>(null);
  const at = Math.min(place, boxes.length - 1);
  const box = boxes[at];
  // Once begun, the next box is ready to be typed into.
  useLayoutEffect(() => {
    if (walked) host.current?.querySelector('input')?.focus();
  }, [at, walked]);
  if (!box) return null;
  const numbers = Object.keys(slab.spots);
  const number = numbers.indexOf(box.spot) + 1;
  // What cannot be read stays in its box until it is mended or cleared: nothing typed is lost by going on.
  const go = (by: number) => {
    const typed = host.current?.querySelector('input')?.value ?? '';
    if (typed.trim() !== '' && !reads(typed, units, box.which)) return;
    setWalked(true);
    setPlace((at + by + boxes.length) % boxes.length);
  };
  const done = boxes.filter((each) => typedIn(slab, each) !== null).length;
  const label = `${SAYS[box.which]}, spot ${number}`;
  return (
    <form
      ref={host}
      class="card stack thumb-entry"
      aria-label="Readings one by one"
      onSubmit={(event) => {
        event.preventDefault();
        go(1);
      }}
    >
      <SpotMap slab={slab} box={box} boxes={boxes} asked={new Set(asked.map(({ spot }) => spot))} />
      <LengthField<true>
        key={`${box.spot}/${box.which}`}
        optional
        sign={box.which === 'thickness' ? 'positive' : 'any'}
        finest={32}
        label={label}
        value={typedIn(slab, box)}
        onChange={(typed) =>
          view.editSlab(slab.id, 'Type a reading', (draft) => {
            const spot = draft.spots[box.spot];
            if (!spot) return;
            spot[box.which] = turned(box.which, typed);
            delete spot.sure;
          })
        }
      />
      <div class="row thumb-keys">
        <button type="button" class="button" onClick={() => go(-1)}>
          Back
        </button>
        <button type="submit" class="button main">
          Next
        </button>
      </div>
      <p class="small soft">
        {done} of {boxes.length} boxes filled. A box may stay empty.
      </p>
    </form>
  );
}

function reads(text: string, units: UnitSystem, which: Box['which']): boolean {
  try {
    return parseLength(text, units) > 0 || which !== 'thickness';
  } catch (problem) {
    if (problem instanceof InputProblem) return false;
    throw problem;
  }
}

/** The slab small, with its spots: done, empty, asked about, and the one whose turn it is. */
function SpotMap({
  slab,
  box,
  boxes,
  asked,
}: {
  slab: Slab;
  box: Box;
  boxes: readonly Box[];
  asked: ReadonlySet<string | null>;
}) {
  const outline = slab.faces.top.outline?.outer;
  const spots = Object.values(slab.spots);
  const { minX, minY, maxX, maxY } = bounds(outline ?? spots.map(({ at }) => at));
  const unit = Math.max(maxX - minX, 1) / 100;
  return (
    <svg
      class="spot-map"
      aria-hidden="true"
      viewBox={`${minX - 4 * unit} ${minY - 4 * unit} ${maxX - minX + 8 * unit} ${maxY - minY + 8 * unit}`}
    >
      {outline && (
        <polygon points={outline.map((p) => p.join()).join(' ')} class="spot-wood" stroke-width={0.5 * unit} />
      )}
      {spots.map(({ id, at: [x, y] }) => {
        const open = boxes.some((each) => each.spot === id && typedIn(slab, each) === null);
        const state = asked.has(id) ? 'asked' : open ? 'open' : 'done';
        return (
          <g key={id} class={`spot-${state}`}>
            <circle cx={x} cy={y} r={1.6 * unit} stroke-width={0.6 * unit} />
            {asked.has(id) && (
              <text x={x} y={y - 2.4 * unit} font-size={5 * unit} text-anchor="middle">
                ?
              </text>
            )}
            {id === box.spot && <circle cx={x} cy={y} r={3.2 * unit} stroke-width={0.8 * unit} class="spot-now" />}
          </g>
        );
      })}
    </svg>
  );
}
