import { useEffect, useState } from 'preact/hooks';

/** As in stage.css: the drawer lies under the drawing, or a phone lies on its side. */
const NARROW = '(max-width: 48rem), (max-height: 30rem)';

/** Whether the screen is so narrow, or so low, that only one drawing has room. */
export function useNarrow(): boolean {
  const [narrow, setNarrow] = useState(() => matchMedia(NARROW).matches);
  useEffect(() => {
    const query = matchMedia(NARROW);
    const follow = () => setNarrow(query.matches);
    query.addEventListener('change', follow);
    return () => query.removeEventListener('change', follow);
  }, []);
  return narrow;
}
