import { type Board, READING_SIGMA } from '../../../job';
import { LengthField, NumberField } from '../../parts/fields';

type Rings = NonNullable<Board['ringDegrees']>;
type Warp = NonNullable<Board['warp']>;

const NO_RINGS: Rings = [null, null, null];
const PLACES = ['Rings near one edge', 'Rings in the middle', 'Rings near the other edge'] as const;
const WARPS = [
  ['bow', 'Bow, ends high'],
  ['cup', 'Cup, edges high'],
  ['twist', 'Twist, fourth corner'],
] as const;

interface BoardEndProps {
  board: Board;
  onWarp(warp: Warp | null): void;
  onRings(rings: Rings): void;
}

/** How a board lies, by straightedge and winding sticks, and how its rings stand at the end grain. Fields that stay empty are not reckoned with. */
export function BoardEnd({ board, onWarp, onRings }: BoardEndProps) {
  const warp: Warp = board.warp ?? { bow: null, cup: null, twist: null, sigma: READING_SIGMA };
  const rings = board.ringDegrees ?? NO_RINGS;
  function setWarp(key: (typeof WARPS)[number][0], mm: number | null) {
    const next = { ...warp, [key]: mm };
    onWarp(next.bow === null && next.cup === null && next.twist === null ? null : next);
  }
  return (
    <details class="fold" open={board.warp != null || board.ringDegrees !== undefined}>
      <summary>Cup, bow, end grain</summary>
      <div class="fields">
        {WARPS.map(([key, label]) => (
          <LengthField
            key={key}
            label={label}
            optional
            sign="any"
            finest={32}
            value={warp[key]}
            onChange={(mm) => setWarp(key, mm)}
          />
        ))}
        {PLACES.map((label, i) => (
          <NumberField
            key={label}
            label={label}
            unit="°"
            optional
            sign="zero"
            most={90}
            value={rings[i] ?? null}
            onChange={(degrees) => onRings(rings.map((own, k) => (k === i ? degrees : own)) as Rings)}
          />
        ))}
      </div>
      <p class="small soft">
        0 in a flat board is worth typing: it says that somebody looked. Rings: their angle against the face, 0° flat,
        90° upright.
      </p>
    </details>
  );
}
