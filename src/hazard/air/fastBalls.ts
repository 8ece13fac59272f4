// The balls of balls.ts by the machine of grid.as.
import { type Blocks, type Grid, type KnownBlocks, kWm2OfWatt, type Lattice, latticeOf, NONE_KNOWN } from './balls.ts'
import type { GridMachine } from './wasm/instance.ts'

/** `sumBalls` in WebAssembly, of the segments that the machine was given: the same bits. */
export function sumBallsFast(
  machine: GridMachine,
  grid: Grid,
  blocks: Blocks,
  radiusMm: number,
  known: KnownBlocks = NONE_KNOWN,
): Lattice {
  const lattice = latticeOf(grid, radiusMm)
  const square = (radiusMm / lattice.spacingMm) ** 2
  const kWm2 = machine.sumBalls(grid, blocks, lattice, { square, toKWm2: kWm2OfWatt(radiusMm), known })
  return { ...lattice, kWm2 }
}
