// Segments near a place, written out by hand.
import type { Near, V3 } from '../../src/hazard/air/near.ts'

export interface NearRay {
  x?: V3
  d: V3
  length?: number
  watts?: number
}

/** In double precision, so that a boundary can be met exactly. */
export function nearOf(rays: readonly NearRay[]): Near {
  const column = (of: (r: NearRay) => number) => Float64Array.from(rays, of)
  return {
    count: rays.length,
    x: column((r) => r.x?.[0] ?? 0),
    y: column((r) => r.x?.[1] ?? 0),
    z: column((r) => r.x?.[2] ?? 0),
    dx: column((r) => r.d[0]),
    dy: column((r) => r.d[1]),
    dz: column((r) => r.d[2]),
    length: column((r) => r.length ?? 100),
    watts: column((r) => r.watts ?? 1),
    batch: new Uint8Array(rays.length),
  }
}
