/** Prices are reckoned in whole numbers of this fineness, so that the queue is a ring of buckets (Dial 1969, Algorithm 360). */
const FINE = 64;

/**
 * The cheapest way over a grid from one node to another, in steps to all eight neighbours: a step costs its length times the mean of the
 * prices at its two ends.
 * @param price of each node, row by row, above 0
 * @returns indices of the nodes on the way, both ends included
 */
export function cheapestWay(price: Float32Array, width: number, from: number, to: number): number[] {
  const height = price.length / width;
  const dearest = price.reduce((a, b) => Math.max(a, b), 0);
  const ring: number[][] = Array.from({ length: Math.ceil(dearest * Math.SQRT2 * FINE) + 2 }, () => []);
  const cost = new Float64Array(price.length).fill(Infinity);
  const before = new Int32Array(price.length).fill(-1);
  cost[from] = 0;
  (ring[0] as number[]).push(from);
  let waiting = 1;
  for (let now = 0; waiting > 0; now++) {
    const bucket = ring[now % ring.length] as number[];
    for (let k = bucket.pop(); k !== undefined; k = bucket.pop()) {
      waiting--;
      if (cost[k] !== now) continue;
      if (k === to) return wayBack(before, to);
      const [c, r] = [k % width, Math.floor(k / width)];
      for (let j = Math.max(0, r - 1); j <= Math.min(height - 1, r + 1); j++) {
        for (let i = Math.max(0, c - 1); i <= Math.min(width - 1, c + 1); i++) {
          const n = j * width + i;
          if (n === k) continue;
          const length = i === c || j === r ? 1 : Math.SQRT2;
          const step = Math.max(1, Math.round(0.5 * FINE * length * ((price[k] as number) + (price[n] as number))));
          if (now + step >= (cost[n] as number)) continue;
          cost[n] = now + step;
          before[n] = k;
          (ring[(now + step) % ring.length] as number[]).push(n);
          waiting++;
        }
      }
    }
  }
  return [from, to];
}

function wayBack(before: Int32Array, to: number): number[] {
  const way = [to];
  for (let k = before[to] as number; k >= 0; k = before[k] as number) way.push(k);
  return way.reverse();
}
