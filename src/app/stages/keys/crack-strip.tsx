import { useLayoutEffect, useRef, useState } from 'preact/hooks';
import type { KeySize } from '../../../job';
import { keyOutline } from '../../../keys';
import { formatLength } from '../../../units';
import { useUnits } from '../../parts/job-context';
import type { JobStore } from '../../store';
import { changeKey, dropKey, type KeyBench, numberOf, putKeys } from './bench';
import type { KeysHand } from './hand';
import { chain, hasRoom, type StripScale, stripScale, widthsAlong } from './strip-drawing';
import { heartwood } from './wood-colour';
import { inWords } from './words';

/** Half of a target, px, and what a press may stray and still be a tap. */
const REACH = 22;
const STILL = 5;

interface CrackStripProps {
  store: JobStore;
  bench: KeyBench;
  hand: KeysHand;
  species: string;
  name: string;
}

/** The crack in view unrolled from its left tip to its right one: how wide it is, and how its keys are spaced. */
export function CrackStrip({ store, bench, hand, species, name }: CrackStripProps) {
  const units = useUnits();
  const host = useRef<HTMLDivElement>(null);
  const [width, setWidth] = useState(600);
  useLayoutEffect(() => {
    const box = host.current;
    if (!box) return;
    setWidth(box.clientWidth);
    const sized = new ResizeObserver(() => setWidth(box.clientWidth));
    sized.observe(box);
    return () => sized.disconnect();
  }, []);

  const crack = hand.crack.value;
  const held = hand.held.value;
  const keys = held?.keys ?? bench.keys;
  const chosen = held ? held.i : hand.chosen.value;
  const spot = hand.spot.value;
  const length = bench.room.lengthOf(crack);
  const line = bench.input.cracks[crack]?.line ?? [];
  const longest = Math.max(...bench.input.sizes.map(({ length }) => length));
  const scale = stripScale(width, length, longest, Math.max(...line.map(([, , w]) => w), 0));
  const x = (along: number) => scale.left + along * scale.perMm;
  const press = usePress(store, bench, hand, crack, scale);
  const { middle } = scale;
  const say = (mm: number) => formatLength(mm, units, { decimals: 0 });
  const own = keys.filter((key) => key.crack === crack);
  // Spacing is judged face by face: that of the chosen key, else the upper one.
  const below = own.every((key) => key.face === 'bottom') || (chosen !== null && keys[chosen]?.face === 'bottom');
  const face = own.length > 0 && below ? 'bottom' : 'top';

  return (
    <div class="crack-strip" ref={host}>
      <p class="small">
        <strong>{name}</strong> unrolled, {inWords(length, units)} from{' '}
        {bench.top.cracks[crack]?.seam ? 'end to end' : 'tip to tip'}.
        {scale.times > 1 && ` Its width is drawn ${scale.times} times.`}
      </p>
      <svg width={width} height={scale.height} {...press}>
        <title>{`${name} unrolled, with its keys`}</title>
        <polygon class="strip-crack" points={crackRing(line, scale)} />
        <path class="strip-tip" d={tipMarks(scale, length)} />
        {keys.map((key, i) => {
          const size = bench.room.sizeOf(key);
          if (key.crack !== crack || !size) return null;
          const wrong = !held && bench.judged[i]?.against;
          return (
            <g
              key={i}
              role="slider"
              tabIndex={0}
              aria-label={`Key ${numberOf(bench, i)}, from the left tip`}
              aria-valuemin={0}
              aria-valuemax={Math.round(length)}
              aria-valuenow={Math.round(key.along)}
              aria-valuetext={inWords(key.along, units)}
              class={`strip-key${i === chosen ? ' chosen' : ''}${wrong ? ' wrong' : ''}${key.face === 'bottom' ? ' under' : ''}`}
              transform={`translate(${x(key.along)} ${middle}) rotate(${key.turn})`}
              onFocus={() => hand.chosen.peek() !== i && hand.choose(i, crack)}
              onKeyDown={(event) => {
                const by = STEPS[event.key];
                if (event.key === 'Delete' || event.key === 'Backspace') dropKey(store, bench, hand, i);
                else if (by !== undefined)
                  changeKey(store, bench, hand, 'Slide a key', i, {
                    along: key.along + by * (event.shiftKey ? 10 : 1),
                  });
                else return;
                event.preventDefault();
              }}
            >
              <rect x={-REACH} y={-REACH} width={2 * REACH} height={2 * REACH} class="strip-reach" />
              <polygon points={bowTie(size, scale.perMm)} fill={heartwood(species)} />
              <text y={-(size.length * scale.perMm) / 2 - 6} text-anchor="middle">
                {numberOf(bench, i)}
              </text>
            </g>
          );
        })}
        {spot?.crack === crack && <path class="strip-spot" d={`M${x(spot.along)} ${middle - 34}v68m-7 -34h14`} />}
        {chain(keys, crack, face, length).map(({ from, to }, i) => {
          const [a, b] = [scale.left + from * scale.perMm, scale.left + to * scale.perMm];
          return (
            <g key={i} class="strip-chain">
              <path d={`M${a} ${scale.chain}H${b}M${a} ${scale.chain - 5}v10M${b} ${scale.chain - 5}v10`} />
              {hasRoom(say(to - from), b - a) && (
                <text x={(a + b) / 2} y={scale.chain - 6} text-anchor="middle">
                  {say(to - from)}
                </text>
              )}
            </g>
          );
        })}
      </svg>
    </div>
  );
}

const STEPS: Readonly<Record<string, number>> = { ArrowLeft: -1, ArrowDown: -1, ArrowRight: 1, ArrowUp: 1 };

/** Taking hold of a key on the strip, or tapping a place between keys. */
function usePress(
  store: JobStore,
  bench: KeyBench,
  hand: KeysHand,
  crack: number,
  { perMm, left, length }: StripScale,
) {
  const held = useRef<{ i: number | null; start: number; off: number; moved: boolean } | null>(null);
  const alongAt = (event: PointerEvent): number => {
    const box = (event.currentTarget as Element).getBoundingClientRect();
    return (event.clientX - box.left - left) / perMm;
  };
  const clamped = (along: number) => Math.min(length, Math.max(0, along));
  return {
    onPointerDown(event: PointerEvent) {
      const along = alongAt(event);
      const near = bench.keys
        .map((key, i) => ({ i, key, off: Math.abs(key.along - along) }))
        .filter(({ key, off }) => {
          const half = (bench.room.sizeOf(key)?.end ?? 0) / 2;
          return key.crack === crack && off <= Math.max(half, REACH / perMm);
        })
        .sort((a, b) => a.off - b.off)[0];
      (event.currentTarget as Element).setPointerCapture(event.pointerId);
      held.current = { i: near?.i ?? null, start: event.clientX, off: near ? near.key.along - along : 0, moved: false };
    },
    onPointerMove(event: PointerEvent) {
      const now = held.current;
      if (!now || now.i === null) return;
      if (!now.moved && Math.abs(event.clientX - now.start) < STILL) return;
      now.moved = true;
      const key = bench.keys[now.i];
      if (!key) return;
      if (hand.chosen.peek() !== now.i) hand.choose(now.i, crack);
      const along = clamped(alongAt(event) + now.off);
      hand.held.value = { keys: bench.keys.with(now.i, { ...key, along }), i: now.i };
    },
    onPointerUp(event: PointerEvent) {
      const now = held.current;
      held.current = null;
      if (!now) return;
      const moved = hand.held.peek();
      if (now.moved && moved) putKeys(store, bench, hand, 'Slide a key', moved.keys, moved.keys[moved.i] ?? null);
      else if (now.i !== null) hand.choose(now.i, crack);
      else {
        hand.choose(null, crack);
        hand.spot.value = { crack, along: clamped(alongAt(event)) };
      }
    },
    onPointerCancel() {
      held.current = null;
      hand.held.value = null;
    },
  };
}

function crackRing(line: Parameters<typeof widthsAlong>[0], { perMm, times, left, middle }: StripScale): string {
  const half = (width: number) => Math.max(0.6, (width * perMm * times) / 2);
  const widths = widthsAlong(line).map(([along, width]) => [left + along * perMm, half(width)] as const);
  const over = widths.map(([x, h]) => `${x},${middle - h}`);
  const under = widths.map(([x, h]) => `${x},${middle + h}`).reverse();
  return [...over, ...under].join(' ');
}

const tipMarks = ({ left, perMm, middle }: StripScale, length: number): string =>
  `M${left} ${middle - 14}v28M${left + length * perMm} ${middle - 14}v28`;

/** A key on the strip, its length across the crack. */
const bowTie = (size: KeySize, perMm: number): string =>
  keyOutline(size)
    .map(([x, y]) => `${y * perMm},${x * perMm}`)
    .join(' ');
