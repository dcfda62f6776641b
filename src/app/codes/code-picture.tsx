import { encode } from 'uqr';

/** White that a reader wants round a code, in its cells (ISO/IEC 18004, from memory). */
const QUIET = 4;

/** Words as a QR code, black on white whatever the screen's colours are: not every reader takes the other way round. */
export function CodePicture({ words, label }: { words: string; label: string }) {
  const { data, size } = encode(words, { ecc: 'L', border: QUIET });
  const cells = data.flatMap((row, y) => row.flatMap((dark, x) => (dark ? [`M${x} ${y}h1v1h-1z`] : [])));
  return (
    <svg
      class="code-picture"
      viewBox={`0 0 ${size} ${size}`}
      role="img"
      aria-label={label}
      shape-rendering="crispEdges"
    >
      <path d={`M0 0h${size}v${size}h-${size}z`} fill="#fff" />
      <path d={cells.join('')} fill="#000" />
    </svg>
  );
}
