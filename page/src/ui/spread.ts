/**
 * Places for labels at least `gap` apart within low..high, in the order given, each as near to its
 * `wanted` place as can be; closer than `gap` only when they do not all fit.
 *
 * Source: pooling of adjacent violators (Ayer et al. 1955, Annals of Mathematical Statistics 26).
 */
export function spread(
  wanted: readonly number[],
  gap: number,
  low: number,
  high: number,
): number[] {
  const count = wanted.length;
  if (count === 0) return [];
  const step = Math.min(gap, (high - low) / Math.max(1, count - 1));
  const order = wanted.map((_, i) => i).sort((a, b) => (wanted[a] ?? 0) - (wanted[b] ?? 0));
  const pools: { mean: number; size: number }[] = [];
  order.forEach((index, rank) => {
    let pool = { mean: (wanted[index] ?? 0) - rank * step, size: 1 };
    for (let last = pools.at(-1); last && last.mean > pool.mean; last = pools.at(-1)) {
      pools.pop();
      const size = last.size + pool.size;
      pool = { mean: (last.mean * last.size + pool.mean * pool.size) / size, size };
    }
    pools.push(pool);
  });
  const levels = pools.flatMap(({ mean, size }) => new Array<number>(size).fill(mean));
  const places = new Array<number>(count);
  const room = high - (count - 1) * step;
  order.forEach((index, rank) => {
    places[index] = Math.min(room, Math.max(low, levels[rank] ?? low)) + rank * step;
  });
  return places;
}
