// The order of assembly: every part once, dangers where they belong, every item of the power-up list in one step.
import { describe, expect, test } from 'vitest'
import { type AssemblyStep, assemblyOrder, stepOfPowerUp } from '../../src/bill/assemblyOrder.ts'
import { STEPS, type StepId } from '../../src/bill/part.ts'
import { partsList } from '../../src/bill/partsList.ts'
import { preparePower } from '../../src/job/power/run.ts'
import type { Lamp } from '../../src/lamp/schema.ts'
import { benchCheck, DEMOS, gannetHead, iceRink, stileLamp } from '../../src/library/demos.ts'
import { amount } from '../kit/amount.ts'
import { seeds } from '../kit/expect.ts'
import { randomPowerLamp } from '../kit/randomPower.ts'

const idsOf = (lamp: Lamp) => assemblyOrder(lamp).map((s) => s.id)
const stepOf = (lamp: Lamp, id: StepId): AssemblyStep => {
  const found = assemblyOrder(lamp).find((s) => s.id === id)
  if (!found) throw new Error(`no step ${id}`)
  return found
}
const checksOf = (lamp: Lamp, id: StepId) => stepOf(lamp, id).checks.map((c) => c.id)

describe('steps', () => {
  test('of a lamp with everything but a sensor, in order; the lens comes covered, power last', () => {
    expect(idsOf(gannetHead())).toEqual(STEPS.filter((s) => s !== 'protection'))
  })
  test('without tunnel and lens their steps are gone', () => {
    for (const gone of ['tunnel', 'lens', 'cover'] as const) expect(idsOf(stileLamp())).not.toContain(gone)
    expect(idsOf(iceRink())).toContain('tunnel')
    expect(checksOf(stileLamp(), 'powerUp')).not.toContain('coverAfterwards')
    expect(checksOf(gannetHead(), 'powerUp')).toContain('coverAfterwards')
  })
  test('a lamp without boards has nothing to measure and nothing to switch on', () => {
    const ids = idsOf({ ...gannetHead(), boards: [] })
    for (const gone of ['boards', 'beforePower', 'powerUp'] as const) expect(ids).not.toContain(gone)
  })
  test('measuring without power stands before the supply, and the supply before anything lit', () => {
    const ids = idsOf(gannetHead())
    const order = [
      'wiring',
      'beforePower',
      'supply',
      'channels',
      'optics',
      'tunnel',
      'lens',
      'cover',
      'powerUp',
    ] as const
    expect(order.map((id) => ids.indexOf(id))).toEqual([...order.map((id) => ids.indexOf(id))].sort((a, b) => a - b))
  })
  test.each(seeds(amount(3, 6)))('every part of the list in exactly one step, in the list’s order, seed %i', (seed) => {
    for (const lamp of [randomPowerLamp(seed).lamp, ...Object.values(DEMOS).map((make) => make())]) {
      const used = assemblyOrder(lamp).flatMap((s) => s.parts)
      expect(used).toEqual(partsList(lamp).parts.map((p) => p.key))
    }
  })
})

describe('checks', () => {
  test('figures are the document’s', () => {
    const lamp = gannetHead()
    expect(stepOf(lamp, 'lens').checks).toContainEqual({ id: 'lensAt', value: 1050 })
    expect(stepOf(lamp, 'tunnel').checks).toContainEqual({ id: 'tunnelStarts', value: 14 })
    expect(stepOf(lamp, 'tunnel').checks).toContainEqual({ id: 'tunnelEnds', value: 1040 })
    expect(stepOf(lamp, 'optics').checks).toContainEqual({
      ...{ id: 'opticsHeight', value: 12, name: 'Collimator 12°, 10 mm' },
    })
  })
  test('which side of the lens looks where', () => {
    const lamp = gannetHead()
    const turned = (grooves: 'target' | 'source') => ({ ...lamp, lens: { ...lamp.lens!, grooves } }) as Lamp
    expect(checksOf(turned('target'), 'lens')).toContain('groovesToTarget')
    expect(checksOf(turned('source'), 'lens')).toContain('groovesToSource')
    const solid = (curved: 'target' | 'source'): Lamp => ({
      ...lamp,
      lens: {
        ...{ kind: 'solid', zMm: 300, diameterMm: 60, radiusMm: 100, conic: 0, thicknessMm: 10, curved },
        material: 'crown',
      },
    })
    expect(checksOf(solid('target'), 'lens')).toContain('curvedToTarget')
    expect(checksOf(solid('source'), 'lens')).toContain('curvedToSource')
  })
  test('a cut-out is tried by itself, and once more in the lamp', () => {
    const lamp = gannetHead()
    const guarded = { ...lamp, power: { ...lamp.power!, protection: { cutOut: { openC: 85 } } } }
    expect(stepOf(guarded, 'protection').checks).toContainEqual({ id: 'cutOutOpens', value: 85 })
    expect(checksOf(guarded, 'powerUp')).toContain('protectionActs')
    expect(checksOf(lamp, 'powerUp')).not.toContain('protectionActs')
  })
  test('aimed optics, raised boards', () => {
    const lamp = gannetHead()
    expect(checksOf({ ...lamp, aimAt: { xMm: 0, yMm: 0, distanceM: 50 } }, 'optics')).toContain('opticsAim')
    expect(checksOf(lamp, 'optics')).not.toContain('opticsAim')
    const raised = { ...lamp, boards: lamp.boards.map((b, i) => (i === 0 ? { ...b, heightMm: 4 } : b)) }
    expect(checksOf(raised, 'boards')).toContain('boardHeights')
    expect(checksOf(lamp, 'boards')).not.toContain('boardHeights')
  })
})

describe('cautions', () => {
  test('the lens is handled as a burning glass, the cover in daylight, the pack by its maker', () => {
    expect(stepOf(gannetHead(), 'lens').cautions).toContain('burningGlass')
    expect(stepOf(benchCheck(), 'lens').cautions).toContain('burningGlass')
    expect(stepOf(gannetHead(), 'cover').cautions).toContain('daylight')
    expect(stepOf(gannetHead(), 'supply').cautions).toEqual(expect.arrayContaining(['packs', 'rules', 'fuses']))
    expect(stepOf(benchCheck(), 'supply').cautions).not.toContain('packs')
  })
  test('whatever is lit warns the eyes', () => {
    for (const id of ['emitters', 'channels', 'powerUp'] as const)
      expect(stepOf(gannetHead(), id).cautions).toContain('eyes')
  })
})

test('items of the power-up list: without power first, all others while the lamp is open', () => {
  const { powerUp } = preparePower(gannetHead()).report([])
  const steps = new Map(powerUp.map((item) => [item.step, stepOfPowerUp(item.step)]))
  expect([...steps].filter(([, step]) => step === 'beforePower').map(([item]) => item)).toEqual([
    ...['supply apart', 'insulation', 'continuity', 'polarity'],
  ])
  for (const item of ['main fuse', 'eyes', 'fuse', 'set-point', 'low current']) expect(steps.get(item)).toBe('channels')
})
