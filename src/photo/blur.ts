import type { Raster } from '../raster';

/** Pixels that are averaged along each way, as published. */
const AVERAGED = 9;

/**
 * How blurred a grey picture is where `counts` says so: 0 for the sharpest, 1 for the most blurred there can be. What blurring it once more takes
 * from the differences between neighbours (Crete, Dolmiere, Ladret and Nicolas 2007, the blur effect): a sharp picture loses much,
 * a blurred one little, hardly hanging on what is shown or how brightly. The worse of both ways, so that a hand that moved is told, too.
 */
export function blurOf({ width, height, data }: Raster, counts: (x: number, y: number) => boolean): number {
  const reach = (AVERAGED - 1) / 2;
  const along = [1, width].map((step) => {
    let [all, lost] = [0, 0];
    for (let y = reach + 1; y < height - reach; y++)
      for (let x = reach + 1; x < width - reach; x++) {
        if (!counts(x, y)) continue;
        const i = y * width + x;
        const own = Math.abs((data[i] as number) - (data[i - step] as number));
        // Averages of neighbours differ by what one has more at its far end.
        const averaged =
          Math.abs((data[i + reach * step] as number) - (data[i - (reach + 1) * step] as number)) / AVERAGED;
        all += own;
        lost += Math.max(0, own - averaged);
      }
    return all > 0 ? 1 - lost / all : 1;
  });
  return Math.max(...along);
}
