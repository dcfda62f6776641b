import { useLevel } from './use-level';

/** Off by less than this, degrees, is square: a hand holds no stiller. */
const SQUARE = 2;
/** The bubble leaves the ring's middle by its half at this lean, degrees. */
const HALF = 15;

/** A bubble, which floats to the high side, and how far from square the camera is held; nothing where the device has no sensor. */
export function Level() {
  const { lean, ask } = useLevel();
  if (ask)
    return (
      <button type="button" class="button" onClick={ask}>
        Show the level
      </button>
    );
  if (!lean) return null;
  const away = (degrees: number) => Math.max(-20, Math.min(20, (10 * degrees) / HALF));
  const says = lean.off < SQUARE ? 'Square' : `${Math.round(lean.off)}° off`;
  return (
    <div class={lean.off < SQUARE ? 'level square' : 'level'}>
      <svg viewBox="-24 -24 48 48" aria-hidden="true">
        <circle r="22" />
        <path d="M-22 0H22M0-22V22" />
        <circle class="bubble" r="6" cx={-away(lean.right)} cy={-away(lean.down)} />
      </svg>
      <span class="number small">{says}</span>
    </div>
  );
}
