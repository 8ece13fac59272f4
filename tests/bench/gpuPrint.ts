// What the graphics engine's bench says.
import type { GpuBench } from './gpu.ts'

export interface Peaks {
  /** Instructions of a lane, 10¹² a second: half of the floating-point figure that counts a multiplication with addition as two. */
  teraOps: number
  gbPerSecond: number
}

export function printGpu({ device, rows, axis, long, growth, drag, cost }: GpuBench, peaks: Peaks): void {
  console.log(`\nGraphics engine on ${device}: rays of full physics (medians of seven, spread from least to most)`)
  console.table(rows)
  console.log('\n± 1 % (95 %) on the axial candela of the searchlight, forward, from order to sums read back')
  console.table([axis])
  console.log('\nDrag: sheets per second, the whole sheet of the searchlight while its lens is dragged')
  console.table(drag)
  console.log('\nTen thousand million rays in one chunk')
  console.table([long])
  console.log('\nCost of a ray against the number of emitters and of grooves')
  console.table(growth)
  console.log('\nWhat a ray of the searchlight costs: steps counted on the device, operations by hand')
  console.table(cost.rows)
  const ps = 1e6 / rows[0]!['million rays/s']
  const floorOps = cost.operations / peaks.teraOps
  const floorBytes = (1000 * cost.bytes) / peaks.gbPerSecond
  console.log(
    `${cost.operations} operations and ${cost.bytes} bytes a ray: at ${peaks.teraOps}e12 instructions/s and ${peaks.gbPerSecond} GB/s no less than ${floorOps.toFixed(1)} ps ` +
      `and ${floorBytes.toFixed(1)} ps; measured ${ps.toFixed(1)} ps. The rest: lanes idle at branches and at the ends of turns, waiting for ` +
      'memory and for one another, addresses and bounds that the driver adds.',
  )
}
