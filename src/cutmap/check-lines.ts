import { moved } from './blocks';
import { type Element, path, text } from './drawing';

/** Height of the two lines below, mm. */
export const CHECK_LINES = 15;

/** Two lines of known length: a printer that shrinks the page shows it here. `mend` is said after the second. */
export function checkLines(x: number, y: number, mend = ''): Element[] {
  const line = (top: number, length: number, words: string): Element[] => [
    path(
      [
        [x, top],
        [x + length, top],
      ],
      'frame',
    ),
    ...[x, x + length].map((at) =>
      path(
        [
          [at, top - 1.5],
          [at, top + 1.5],
        ],
        'frame',
      ),
    ),
    text([x + 106, top + 1.2], words),
  ];
  return [...line(4, 100, '100 mm: must measure 100 mm'), ...line(11, 101.6, `4 in: must measure 4 in${mend}`)].map(
    (element) => moved(element, 0, y),
  );
}
