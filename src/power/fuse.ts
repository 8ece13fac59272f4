// Fuses: usual ratings (ISO 8820-3 blade fuses up to 40 A, larger bolted ones; memory), and between which currents one belongs: at least
// 1.25 times the lasting current (NEC 210.20(A), second-hand; 1.25 to 1.5 is common practice), at most what the wire bears.
export const FUSE_AMPS = [1, 2, 3, 4, 5, 7.5, 10, 15, 20, 25, 30, 35, 40, 50, 60, 70, 80, 100, 125, 150, 200] as const
export const FUSE_FACTOR = 1.25

export interface FuseRange {
  leastA: number
  mostA: number
  /** The smallest usual rating that fits; null where the wire is too thin for its load. */
  fitsA: number | null
}

export function fuseRange(loadA: number, wireA: number): FuseRange {
  const leastA = FUSE_FACTOR * loadA
  const fits = FUSE_AMPS.find((a) => a >= leastA - 1e-9)
  return { leastA, mostA: wireA, fitsA: fits !== undefined && fits <= wireA ? fits : null }
}
