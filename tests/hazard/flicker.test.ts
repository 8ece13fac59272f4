import { describe, expect, test } from 'vitest'
import { lowRiskPercent, noEffectPercent, readFlicker } from '../../src/hazard/flicker.ts'
import type { Driver, Lamp } from '../../src/lamp/schema.ts'
import { gannetHead, stileLamp } from '../../src/library/demos.ts'
import { expectWithin } from '../kit/expect.ts'

const rounding = { abs: 1e-9, because: 'rounding' }

describe('limits of IEEE 1789-2015 (memory)', () => {
  test('low risk: 0.025 f, 0.08 f from 90 Hz, any above 1250 Hz', () => {
    expectWithin(lowRiskPercent(80), 2, rounding)
    expectWithin(lowRiskPercent(90), 7.2, rounding)
    // 100 Hz mains ripple: the often quoted 8 %.
    expectWithin(lowRiskPercent(100), 8, rounding)
    expectWithin(lowRiskPercent(1250), 100, rounding)
    expect(lowRiskPercent(1251)).toBe(100)
  })
  test('no effect: 0.01 f, 0.0333 f from 90 Hz, any above 3000 Hz', () => {
    expectWithin(noEffectPercent(80), 0.8, rounding)
    expectWithin(noEffectPercent(90), 2.997, rounding)
    expectWithin(noEffectPercent(100), 3.33, rounding)
    expectWithin(noEffectPercent(3000), 99.9, rounding)
    expect(noEffectPercent(3001)).toBe(100)
    expect(noEffectPercent(5000)).toBe(100)
  })
})

const withDriver = (change: Partial<Driver>, modes?: NonNullable<Lamp['power']>['modes']): Lamp => {
  const lamp = gannetHead()
  const power = lamp.power!
  const [first] = power.drivers
  return {
    ...lamp,
    power: {
      ...power,
      drivers: [{ ...first!, dimming: 'pulse width', ...change }],
      groups: power.groups.map((g) => ({ ...g, driver: first!.id })),
      modes: modes ?? [{ id: 'low', name: 'Low', share: 0.2, stepDown: null }],
    },
  }
}

describe('a lamp', () => {
  test('dims by pulse width: all the way off and on unless it says otherwise', () => {
    expect(readFlicker(withDriver({ pwmHz: 500 }))[0]).toMatchObject({
      ...{ modes: ['Low'], hz: 500, modulationPercent: 100, verdict: 'beyond low risk' },
      ...{ lowRiskPercent: 40 },
    })
    expect(readFlicker(withDriver({ pwmHz: 500, pwmModulationPercent: 40 }))[0]!.verdict).toBe('low risk')
    expect(readFlicker(withDriver({ pwmHz: 500, pwmModulationPercent: 16.6 }))[0]!.verdict).toBe('no observable effect')
    expect(readFlicker(withDriver({ pwmHz: 2000 }))[0]!.verdict).toBe('low risk')
    expect(readFlicker(withDriver({ pwmHz: 3100 }))[0]!.verdict).toBe('no observable effect')
  })
  test('exactly at a limit is within it; the driver is named', () => {
    const at = (pwmModulationPercent: number) =>
      readFlicker(withDriver({ pwmHz: 500, pwmModulationPercent, name: 'D' }))
    expect(at(0.0333 * 500)[0]).toEqual({
      ...{ driver: 'D', modes: ['Low'], hz: 500, modulationPercent: 0.0333 * 500 },
      ...{ lowRiskPercent: 40, noEffectPercent: 0.0333 * 500, verdict: 'no observable effect' },
    })
    expect(at(40)[0]!.verdict).toBe('low risk')
    expect(at(40.001)[0]!.verdict).toBe('beyond low risk')
  })
  test('a current stated for one of its groups dims, for a group of another driver does not', () => {
    const lamp = withDriver({ pwmHz: 500 })
    const power = lamp.power!
    const [first] = power.drivers
    const [group] = power.groups
    const own = { id: 'own', name: 'Own', share: 1, stepDown: null, groupA: { b: 1 } }
    const other = { id: 'other', name: 'Other', share: 1, stepDown: null, groupA: { c: 1 } }
    const two: Lamp = {
      ...lamp,
      power: {
        ...power,
        drivers: [first!, { ...first!, id: 'second', name: 'Second' }],
        groups: [
          { ...group!, id: 'a', driver: first!.id },
          { ...group!, id: 'b', driver: first!.id },
          { ...group!, id: 'c', driver: 'second' },
        ],
        modes: [own, other],
      },
    }
    expect(readFlicker(two).map((f) => [f.driver, f.modes])).toEqual([
      [first!.name, ['Own']],
      ['Second', ['Other']],
    ])
  })
  test('without a frequency it says so', () => {
    expect(readFlicker(withDriver({}))[0]).toMatchObject({
      ...{ hz: null, lowRiskPercent: null, noEffectPercent: null, verdict: 'frequency not stated' },
    })
  })
  test('none at full current, none by current, none without power; a step-down and a group’s own current dim', () => {
    const full = { id: 'full', name: 'Full', share: 1, stepDown: null }
    expect(readFlicker(withDriver({}, [full]))).toEqual([])
    expect(readFlicker(withDriver({ dimming: 'current' }))).toEqual([])
    const { power: _, ...bare } = gannetHead()
    expect(readFlicker(bare)).toEqual([])
    const steps = { ...full, name: 'Steps', stepDown: { watch: 'time' as const, afterS: 60, toShare: 0.5 } }
    const stays = { ...full, name: 'Stays', stepDown: { watch: 'time' as const, afterS: 60, toShare: 1 } }
    const group = gannetHead().power!.groups[0]!.id
    const own = { ...full, name: 'Own', groupA: { [group]: 1 } }
    const other = { ...full, name: 'Other', groupA: { elsewhere: 1 } }
    expect(readFlicker(withDriver({}, [steps, stays, own, other]))[0]!.modes).toEqual(['Steps', 'Own'])
    const folds = (leastShare: number) => {
      const lamp = withDriver({}, [full])
      if (!lamp.power) throw new Error('a lamp with power expected')
      const protection = { foldBack: { startC: 60, endC: 80, leastShare } }
      return readFlicker({ ...lamp, power: { ...lamp.power, protection } }).map((f) => f.modes)
    }
    expect([folds(0.5), folds(1)]).toEqual([[['Full']], []])
    expect(readFlicker(stileLamp()).length).toBeLessThanOrEqual(1)
  })
})
