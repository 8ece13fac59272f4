// Rays where they matter: the five numbers of a ray are drawn more often from the cells that sent light to the place in a first run. Every
// cell keeps a share of even draws, so that nothing is left out, and each ray's watts make up for how often it is drawn.
import type { Random } from './random.ts'
import type { Sink, Tracer } from './tracer.ts'

export interface Sampler {
  /** Trace so many rays; their watts add up to the whole source. `rayBegins` hears of each. */
  run(rays: number, random: Random, sink: Sink, rayBegins?: (cell: number) => void): void
}

const EVEN_SHARE = 0.3

/** `weights`: how much each cell matters, `perSide` ^ 4 of them for each part; null: all alike. */
export function makeSampler(tracer: Tracer, perSide: number, weights: Float64Array | null): Sampler {
  const cells = perSide ** 4
  const total = tracer.watts.reduce((a, b) => a + b, 0)
  const n = tracer.watts.length * cells
  const plain = Float64Array.from({ length: n }, (_, i) => tracer.watts[Math.floor(i / cells)]! / total / cells)
  const sum = weights?.reduce((a, b) => a + b, 0) ?? 0
  const drawn =
    weights && sum > 0 ? plain.map((p, i) => EVEN_SHARE * p + ((1 - EVEN_SHARE) * weights[i]!) / sum) : plain
  const below = new Float64Array(n + 1)
  for (let i = 0; i < n; i++) below[i + 1] = below[i]! + drawn[i]!
  return {
    run(rays, random, sink, rayBegins) {
      const u = new Float64Array(5)
      for (let j = 0; j < rays; j++) {
        const at = find(below, ((j + random()) / rays) * below[n]!)
        let cell = at % cells
        for (let d = 0; d < 4; d++) {
          u[d] = ((cell % perSide) + random()) / perSide
          cell = Math.floor(cell / perSide)
        }
        u[4] = random()
        rayBegins?.(at)
        tracer.trace(Math.floor(at / cells), u, ((plain[at]! / drawn[at]!) * total) / rays, random, sink)
      }
    },
  }
}

function find(below: Float64Array, wanted: number): number {
  let [low, high] = [0, below.length - 1]
  while (high - low > 1) {
    const mid = (low + high) >> 1
    if (below[mid]! <= wanted) low = mid
    else high = mid
  }
  return low
}

/** Cells on a side so that all parts together have no more than some hundred thousand cells. */
export const cellsPerSide = (tracer: Tracer): number =>
  Math.max(3, Math.min(8, Math.floor((120_000 / tracer.watts.length) ** 0.25)))
