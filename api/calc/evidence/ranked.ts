/** Fewer values than this are sorted at once. */
const FEW = 2000;
const BUCKETS = 4096;

/**
 * Values parted into buckets by size, so that any order statistic is found without
 * sorting all of them: those of a bucket are all smaller than those of the next.
 */
export interface Buckets {
  /** Bucket of each value. */
  indexOf: Uint16Array;
  /** How many values lie in the buckets before each; one more entry than buckets. */
  before: Uint32Array;
  /** The bucket that a value would lie in. */
  bucketOf: (value: number) => number;
}

/** Null where values are few, all alike, or not all finite: there is nothing to part. */
export function intoBuckets(values: Float64Array): Buckets | null {
  const { low, high } = extremesOf(values);
  const perUnit = (BUCKETS - 0.5) / (high - low);
  if (values.length < FEW || !(perUnit > 0) || !Number.isFinite(perUnit)) return null;
  const indexOf = new Uint16Array(values.length);
  const before = new Uint32Array(BUCKETS + 1);
  for (let n = 0; n < values.length; n++) {
    const bucket = ((values[n]! - low) * perUnit) | 0;
    indexOf[n] = bucket;
    before[bucket + 1]!++;
  }
  for (let bucket = 0; bucket < BUCKETS; bucket++) before[bucket + 1]! += before[bucket]!;
  return { indexOf, before, bucketOf: (value) => ((value - low) * perUnit) | 0 };
}

/** Smallest and largest value; neither where one is not a number. */
function extremesOf(values: Float64Array): { low: number; high: number } {
  let low = Infinity;
  let high = -Infinity;
  for (let n = 0; n < values.length; n++) {
    const value = values[n]!;
    if (value < low) low = value;
    if (value > high) high = value;
    if (value !== value) return { low: value, high: value };
  }
  return { low, high };
}

/** The bucket that holds the value of a rank (0 the smallest). */
function bucketOfRank(before: Uint32Array, rank: number): number {
  let low = 0;
  let high = before.length - 2;
  while (low < high) {
    const middle = (low + high + 1) >> 1;
    if (before[middle]! <= rank) low = middle;
    else high = middle - 1;
  }
  return low;
}

/** Values of some ranks (0 the smallest), in the order asked for. */
export function ranked(
  values: Float64Array,
  ranks: readonly number[],
  parted: Buckets | null = intoBuckets(values),
): number[] {
  if (parted === null) {
    const sorted = values.toSorted();
    return ranks.map((rank) => sorted[rank]!);
  }
  const { indexOf, before } = parted;
  const wanted = ranks.map((rank) => bucketOfRank(before, rank));
  /** Where each wanted bucket is gathered; 0 for those that are not wanted. */
  const placeOf = new Uint32Array(before.length);
  let room = 0;
  const starts = new Map<number, number>();
  for (const bucket of wanted) {
    if (starts.has(bucket)) continue;
    starts.set(bucket, room);
    placeOf[bucket] = room + 1;
    room += before[bucket + 1]! - before[bucket]!;
  }
  const gathered = new Float64Array(room);
  for (let n = 0; n < values.length; n++) {
    const place = placeOf[indexOf[n]!]!;
    if (place === 0) continue;
    gathered[place - 1] = values[n]!;
    placeOf[indexOf[n]!] = place + 1;
  }
  for (const [bucket, start] of starts)
    gathered.subarray(start, start + before[bucket + 1]! - before[bucket]!).sort();
  return ranks.map((rank, r) => gathered[starts.get(wanted[r]!)! + rank - before[wanted[r]!]!]!);
}
