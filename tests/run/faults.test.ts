// Each fault of a run by itself: what is said of it, and that nothing else is said.
import { describe, expect, test } from 'vitest'
import { tallyLayout } from '../../src/run/layout.ts'
import { FATES, type Run } from '../../src/run/types.ts'
import { expectValid, findRunFaults, lostRaysLimit } from '../../src/run/validate.ts'
import { expectWithin } from '../kit/expect.ts'
import { exitRays, filledRun, HAND_LM_PER_W, smallShape } from '../kit/handRun.ts'

const shape = smallShape()
const layout = tallyLayout(shape)
const at = (fate: (typeof FATES)[number]) => FATES.indexOf(fate)
const wall = layout.fateW + at('wall')
const wallLm = layout.fateLm + at('wall')

/** All of each batch ends on the wall; two exit rays. */
const sound = (rays = 16): Run => {
  const run = filledRun(
    shape,
    (t) => {
      t[wall] = 1
      t[wallLm] = HAND_LM_PER_W
    },
    { rays },
  )
  run.exits = exitRays(
    [
      [0, 0, 1, 0, 0, 1, 1, 300],
      [0, 0, 1, 0, 0.6, 0.8, 0, 0],
    ],
    16,
  )
  return run
}
const withHalves = (run: Run): Run & { halves: [Float64Array, Float64Array] } => ({
  ...run,
  halves: [new Float64Array(layout.size), new Float64Array(layout.size)],
})
const faultsOf = (spoil: (run: Run) => void) => {
  const run = sound()
  spoil(run)
  return findRunFaults(run)
}

test('a sound run, rays of weight zero among them', () => {
  expect(findRunFaults(sound())).toEqual([])
  expect(() => expectValid(sound())).not.toThrow()
})

describe('batches', () => {
  test('number and length', () => {
    expect(faultsOf((r) => r.tallies.pop())).toEqual(['The run has 15 batches; it must have 16.'])
    expect(faultsOf((r) => (r.tallies[4] = new Float64Array(layout.size + 1)))).toEqual([
      'A batch of the run has the wrong length.',
    ])
  })
  test('a negative or infinite weight is named once, before the ledger it breaks', () => {
    expect(faultsOf((r) => (r.tallies[2]![wall] = -1))).toEqual([
      `Batch 3 holds a negative weight (-1) at place ${wall}.`,
    ])
    expect(faultsOf((r) => (r.tallies[2]![wall] = Number.NEGATIVE_INFINITY))).toEqual([
      `Batch 3 holds a negative weight (-Infinity) at place ${wall}.`,
    ])
    expect(faultsOf((r) => (r.tallies[2]![layout.windowLm] = Number.NaN))).toEqual([
      `Batch 3 holds a value that is no number at place ${layout.windowLm}.`,
    ])
    expect(faultsOf((r) => (r.tallies[2]![layout.windowLm] = Number.POSITIVE_INFINITY))).toEqual([
      'Batch 3 holds a value that is not finite.',
    ])
    const roulette = layout.fateW + at('roulette')
    expect(faultsOf((r) => (r.tallies[2]![roulette] = Number.NaN))[0]).toMatch(/Batch 3 .* not finite/)
  })
  test('only the roulette may be below zero, in watts and in lumens', () => {
    for (const [from, unit] of [
      [layout.fateW, 1],
      [layout.fateLm, HAND_LM_PER_W],
    ] as const) {
      const shift = (fate: 'roulette' | 'lost') =>
        faultsOf((r) => {
          r.tallies[1]![from + at(fate)] = -0.5 * unit
          r.tallies[1]![from + at('wall')] = 1.5 * unit
        })
      expect(shift('roulette')).toEqual([])
      expect(shift('lost').join()).toMatch(/^Batch 2 holds a negative weight/)
    }
  })
  test('a batch that emitted nothing', () => {
    expect(faultsOf((r) => (r.tallies[5]![layout.emitted] = 0))).toEqual(['Batch 6 emitted no watts.'])
    expect(faultsOf((r) => (r.tallies[5]![layout.emitted + 1] = 0))).toEqual(['Batch 6 emitted no lumens.'])
  })
  test('a ledger that does not close', () => {
    expect(faultsOf((r) => (r.tallies[0]![wall] = 1.5))).toEqual([
      'The ledger of batch 1 does not close in watts: 1.5 of what was emitted is booked.',
    ])
    expect(faultsOf((r) => (r.tallies[0]![wallLm] = 150))).toEqual([
      'The ledger of batch 1 does not close in lumens: 0.5 of what was emitted is booked.',
    ])
    expect(faultsOf((r) => (r.tallies[0]![wall] = 1 + 0.9e-9))).toEqual([])
    expect(faultsOf((r) => (r.tallies[0]![wall] = 1 - 1.1e-9)).length).toBe(1)
  })
})

describe('light lost', () => {
  const lose = (weight: number, fate: 'limit' | 'lost', rays = 16_384) => {
    const run = sound(rays)
    run.tallies[0]![wall] = 1 - weight
    run.tallies[0]![layout.fateW + at(fate)] = weight
    return run
  }
  test('the limit, by hand: m + 3.09 √m + (3.09² − 1)/6 with m = 1e-5 · rays', () => {
    expectWithin(lostRaysLimit(1e5), 1 + 3.09 + 8.5481 / 6, { rel: 1e-12, because: 'rounding' })
    expectWithin(lostRaysLimit(4e5), 4 + 6.18 + 8.5481 / 6, { rel: 1e-12, because: 'rounding' })
  })
  test('so much may be lost and no more', () => {
    // Powers of two: the products are exact.
    const share = (16 * lostRaysLimit(16_384)) / 16_384
    for (const fate of ['limit', 'lost'] as const) {
      expect(findRunFaults(lose(share, fate))).toEqual([])
      expect(findRunFaults(lose(share * 1.000001, fate)).length).toBe(1)
    }
  })
  test('the share is reported; a ledger that does not close is reported alone', () => {
    // 0.32 of 16.
    const run = lose(0.32, 'limit')
    expect(findRunFaults(run).join()).toMatch(/^2\.00e-2 of the light was stopped .* at most 0\.00001 may be\.$/)
    run.tallies[0]![wall] = 1
    expect(findRunFaults(run).join()).toMatch(/^The ledger of batch 1 does not close in watts: 1\.32 [^.]*\.$/)
  })
})

describe('exit rays', () => {
  test.each<[string, (data: Float32Array) => void, string]>([
    ['no unit direction', (d) => (d[9 + 5] = 0.9), 'Exit ray 1 has no unit direction'],
    ['too short by 0.0002', (d) => (d[5] = 0.9998), 'Exit ray 0 has no unit direction'],
    ['no direction at all', (d) => (d[3] = Number.NaN), 'Exit ray 0 has no unit direction (length NaN).'],
    ['an infinite place', (d) => (d[9] = Number.POSITIVE_INFINITY), 'Exit ray 1 holds a value that is not finite.'],
    ['no wavelength', (d) => (d[17] = Number.NaN), 'Exit ray 1 holds a value that is not finite.'],
    ['a negative radiant weight', (d) => (d[6] = -1), 'Exit ray 0 has a negative weight.'],
    ['a negative luminous weight', (d) => (d[7] = -1), 'Exit ray 0 has a negative weight.'],
  ])('%s', (_, spoil, words) => {
    const faults = faultsOf((r) => spoil(r.exits.data))
    expect(faults.length).toBe(1)
    expect(faults[0]).toContain(words)
  })
  test('within 1e-4 of a unit is a unit', () => {
    expect(faultsOf((r) => (r.exits.data[5] = 0.99995))).toEqual([])
  })
  test('fewer numbers than the count needs', () => {
    expect(faultsOf((r) => (r.exits.data = r.exits.data.slice(0, 17)))).toEqual([
      'The exit rays are fewer than their count says.',
    ])
  })
})

describe('between rounds', () => {
  const crooked = () => {
    const run = withHalves(sound())
    run.exits.data[5] = 0.5
    return run
  }
  test('exit rays are left alone, and so are the maps of the batches; otherwise they are not', () => {
    const run = crooked()
    run.tallies[0]![layout.windowLm] = -1
    expect(findRunFaults(run, false)).toEqual([])
    expect(findRunFaults(run).length).toBe(2)
    expect(() => expectValid(run, false)).not.toThrow()
    expect(() => expectValid(run)).toThrow(/^The run is invalid: Batch 1 holds a negative weight .* Exit ray 0 has no/)
  })
  test('without sums of the halves all is checked', () => {
    const run = sound()
    run.exits.data[5] = 0.5
    expect(findRunFaults(run, false).length).toBe(1)
  })
  test.each([-1, Number.NaN, Number.POSITIVE_INFINITY])('%d in the sum of a half is a fault', (value) => {
    for (const half of [0, 1] as const) {
      for (const place of [2 * FATES.length, layout.size - 1]) {
        const run = withHalves(sound())
        run.halves[half][place] = value
        expect(findRunFaults(run, false)).toEqual([
          'A map of the run holds a negative weight or a value that is no number.',
        ])
      }
    }
  })
  test('the roulette of a half may be negative, and must be finite', () => {
    const run = withHalves(sound())
    run.halves[0][at('roulette')] = -1
    expect(findRunFaults(run, false)).toEqual([])
    run.halves[0][at('roulette')] = Number.POSITIVE_INFINITY
    expect(findRunFaults(run, false).length).toBe(1)
  })
})
