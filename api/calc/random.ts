import { mersenne } from 'pure-rand/generator/mersenne';

/** Lowest, most likely and highest value of an uncertain quantity, all in the unit of its field: a triangular distribution. */
export interface UncertainNumber {
  mode: number;
  low: number;
  high: number;
}

/** A repeatable source of random numbers: the same seed and stream give the same numbers in the page and on the server. */
export interface Random {
  /** Uniform on the open interval (0, 1), in steps of 2⁻³². */
  uniform: () => number;
  /** Standard normal. */
  normal: () => number;
  /** exp(ln median + sdLog × normal). */
  lognormal: (parameters: { median: number; sdLog: number }) => number;
  triangular: (number: UncertainNumber) => number;
}

/** Mixes the bits of a 32-bit integer. Source: A. Appleby, MurmurHash3 finalizer (public domain). */
function mixed(bits: number): number {
  let h = bits | 0;
  h = Math.imul(h ^ (h >>> 16), 0x85ebca6b);
  h = Math.imul(h ^ (h >>> 13), 0xc2b2ae35);
  return (h ^ (h >>> 16)) | 0;
}

function streamSeed(seed: number, stream: string): number {
  if (stream === '') return seed | 0;
  let hash = mixed(seed ^ 0x9e3779b9);
  for (let i = 0; i < stream.length; i++) hash = Math.imul(hash ^ stream.charCodeAt(i), 0x01000193);
  return mixed(hash);
}

const LAYERS = 128;
const TAIL_START = 3.442619855899;
const LAYER_AREA = 9.91256303526217e-3;

/** Right edges of the layers of equal area under the normal density; the base layer first. */
function layerEdges(): Float64Array {
  const edges = new Float64Array(LAYERS + 1);
  let height = Math.exp(-0.5 * TAIL_START * TAIL_START);
  edges[0] = LAYER_AREA / height;
  edges[1] = TAIL_START;
  for (let i = 2; i < LAYERS; i++) {
    edges[i] = Math.sqrt(-2 * Math.log(LAYER_AREA / edges[i - 1]! + height));
    height = Math.exp(-0.5 * edges[i]! * edges[i]!);
  }
  return edges;
}

const EDGES = layerEdges();

/**
 * Standard normal by the ziggurat: G. Marsaglia, W. W. Tsang, *The ziggurat
 * method*, Journal of Statistical Software 5 (2000), with layer and position from
 * separate numbers as J. A. Doornik (2005) requires. Exact but for the 2⁻³² steps.
 */
function zigguratNormal(uniform: () => number, bits: () => number): number {
  for (;;) {
    const position = 2 * uniform() - 1;
    const layer = bits() & (LAYERS - 1);
    const edge = EDGES[layer]!;
    const inner = EDGES[layer + 1]!;
    const x = position * edge;
    if (Math.abs(x) < inner) return x;
    if (layer === 0) {
      let beyond = 0;
      let log = 0;
      do {
        beyond = -Math.log(uniform()) / TAIL_START;
        log = -Math.log(uniform());
      } while (2 * log < beyond * beyond);
      return position < 0 ? -TAIL_START - beyond : TAIL_START + beyond;
    }
    const outerDensity = Math.exp(-0.5 * (edge * edge - x * x));
    const innerDensity = Math.exp(-0.5 * (inner * inner - x * x));
    if (innerDensity + uniform() * (outerDensity - innerDensity) < 1) return x;
  }
}

/**
 * Random numbers from the Mersenne twister MT19937 (M. Matsumoto, T. Nishimura,
 * ACM TOMACS 8, 1998).
 *
 * Give every uncertain input its own `stream` name: then adding an input, or an
 * option, leaves the draws of all others as they were.
 */
export function createRandom(seed: number, stream = ''): Random {
  const generator = mersenne(streamSeed(seed, stream));
  const bits = () => generator.next();
  const uniform = () => ((generator.next() >>> 0) + 0.5) * 2.3283064365386963e-10;
  const normal = () => zigguratNormal(uniform, bits);
  return {
    uniform,
    normal,
    lognormal: ({ median, sdLog }) => median * Math.exp(sdLog * normal()),
    triangular: (number) => triangularQuantileOf(number)(uniform()),
  };
}

/**
 * Quantiles of the triangular distribution, 0 ≤ p ≤ 1: low + √(p (high − low)(mode − low)) up to the
 * mode, high − √((1 − p)(high − low)(high − mode)) above it. Example: low 0, mode 1, high 2, p 0.125 gives 0.5.
 */
export function triangularQuantileOf({ low, mode, high }: UncertainNumber): (p: number) => number {
  const range = high - low;
  if (range === 0) return () => mode;
  const rise = range * (mode - low);
  const fall = range * (high - mode);
  const atMode = (mode - low) / range;
  return (p) => (p < atMode ? low + Math.sqrt(p * rise) : high - Math.sqrt((1 - p) * fall));
}
