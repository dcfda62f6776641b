import type { Strip, Top } from '../job';
import { type Control, stage } from '../search';
import { bookPlaces } from './book';
import { chains, ownSeams } from './chains';
import { freeStock, type Ground } from './ground';
import { type KeptPlaces, thickEnough } from './kept-places';
import { asWanted } from './own-places';
import { regluedPlaces } from './reglue';
import { offeredTo } from './sapwood';
import { searchedTop } from './sawn';

/**
 * Places of two halves opened like a book where that is wanted; else of two strips of one slab, and where a top has no other of more strips
 * still: every seam more is one more to show. Then of one slab whose crack is ripped out.
 * @throws Cancelled
 */
export async function chainSearch(
  ground: Ground,
  kept: KeptPlaces,
  groups: readonly (readonly Top[])[],
  taken: readonly Strip[],
  control: Control,
): Promise<void> {
  const { job, stock, grain } = ground;
  for (const [i, [wanted]] of groups.entries()) {
    if (!wanted) continue;
    const part = stage(control, i / groups.length, (i + 1) / groups.length);
    const top = searchedTop(wanted);
    const offered = freeStock(ground, taken).map((face) => offeredTo(top, face));
    const search = { top, shop: job.shop, offered, stock, grain };
    const found = top.bookMatched ? await bookPlaces(search, part) : await ownSeams(search, stage(part, 0, 0.5));
    if (!top.bookMatched && ![...kept.placesOf(wanted.id), ...found].some(thickEnough))
      found.push(...(await chains(search, stage(part, 0.5, 1))));
    if (!top.bookMatched) found.push(...(await regluedPlaces(search, stage(part, 1, 1))));
    const { fit, unfit } = asWanted(found, wanted, ground);
    kept.add(wanted.id, fit, unfit);
  }
}
