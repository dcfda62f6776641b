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
 * Places of two halves opened like a book where that is wanted; else, for a top that has no place yet, of two strips of one slab, and where there
 * is none of more strips still: every seam more is one more to show. Then of one slab whose crack is ripped out.
 * @param placed ids of the tops that have a place beside the others
 * @throws Cancelled
 */
export async function chainSearch(
  ground: Ground,
  kept: KeptPlaces,
  groups: readonly (readonly Top[])[],
  taken: readonly Strip[],
  placed: ReadonlySet<string>,
  control: Control,
): Promise<void> {
  const { job, stock, grain } = ground;
  for (const [i, copies] of groups.entries()) {
    const [wanted] = copies;
    if (!wanted) continue;
    const isMissing = copies.some(({ id }) => !placed.has(id));
    const part = stage(control, i / groups.length, (i + 1) / groups.length);
    const top = searchedTop(wanted);
    const offered = freeStock(ground, taken).map((face) => offeredTo(top, face));
    const search = { top, shop: job.shop, offered, stock, grain };
    const found = top.bookMatched ? await bookPlaces(search, part) : [];
    if (!top.bookMatched && isMissing) found.push(...(await ownSeams(search, stage(part, 0, 0.3))));
    if (!top.bookMatched && ![...kept.placesOf(wanted.id), ...found].some(thickEnough))
      found.push(...(await chains(search, stage(part, 0.3, 0.6))));
    if (!top.bookMatched) found.push(...(await regluedPlaces(search, stage(part, 0.6, 1))));
    const { fit, unfit } = asWanted(found, wanted, ground);
    kept.add(wanted.id, fit, unfit);
  }
}
