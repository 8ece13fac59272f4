// What the kernel counts on the target against its exit rays, carried there in single precision by the readers' own way.
import { describe, expect, test } from 'vitest'
import { readTarget } from '../../../src/beam/target.ts'
import { DEMOS } from '../../../src/library/demos.ts'
import { readAimed } from '../../kit/aimRun.ts'
import { expectWithin } from '../../kit/expect.ts'
import { traceHere } from '../../kit/traceHere.ts'

describe.each(['gannet-head', 'ice-rink'])('%s', (name) => {
  const lamp = DEMOS[name]!()
  test('cells and centre hold the rays that land there', () => {
    const run = traceHere(lamp, { rays: 1 << 16 })
    const [counted, carried] = [readTarget(run, lamp), readAimed(run, lamp)]
    const at = { rel: 2e-4, because: 'rays at an edge, in single precision' }
    for (const figure of ['targetMeanLx', 'targetCentreLx', 'targetMinLx'] as const)
      expectWithin(counted.figures[figure]!.value, carried.figures[figure]!.value, at)
    // The map is of the exit rays.
    expect(counted.map).toEqual(carried.map)
  })
})
