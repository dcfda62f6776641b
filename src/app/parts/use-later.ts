import { useEffect, useState } from 'preact/hooks';

/**
 * What takes longer to compute than an answer to a press may: computed when what was pressed is painted. The last answer stands until the next one is
 * there.
 * @param subject what the answer is about: that of another one is not shown
 * @param hangsOn what it is computed from, as of `useMemo`
 * @returns undefined until the first answer about the subject is there
 */
export function useLater<T>(subject: string, compute: () => T, hangsOn: readonly unknown[]): T | undefined {
  const [known, setKnown] = useState<{ readonly subject: string; readonly answer: T } | null>(null);
  // An effect runs when the frame is painted.
  useEffect(() => setKnown({ subject, answer: compute() }), [subject, ...hangsOn]);
  return known?.subject === subject ? known.answer : undefined;
}
