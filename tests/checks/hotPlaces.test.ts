// Connectors on a hot plate, and modes that only a cool day keeps under their limit: by hand.
import { describe, expect, test } from 'vitest'
import { connectorsHot as connectorsHotRule } from '../../src/checks/power/connectorsHot.ts'
import { hotDay as hotDayRule } from '../../src/checks/power/hotDay.ts'
import type { PowerParts } from '../../src/checks/powerParts.ts'
import type { Lamp } from '../../src/lamp/schema.ts'
import { gannetHead } from '../../src/library/demos.ts'
import { table, wireRun } from '../kit/fakeWorst.ts'
import { metricRule } from '../kit/metricRules.ts'

const connectorsHot = metricRule(connectorsHotRule)
const hotDay = metricRule(hotDayRule)

const gannet = gannetHead()
const HEAT = { kind: 'part', part: 'heat' }
const sink = { speedMS: null, leftOutFins: 0, plateKg: 1, finKg: 1 }
const parts = (over: Partial<PowerParts> = {}): PowerParts => ({ ...table({}), modes: [], wiring: [], sink, ...over })

describe('connectors in leads that end on the plate: 105 °C of usual housings (memory)', () => {
  const lead = (airC: number, over = {}) => wireRun({ id: 'B1 out', part: 'board', airC, connectors: 1, ...over })
  const find = (...wiring: ReturnType<typeof lead>[]) => connectorsHot(gannet, parts({ wiring }))
  test('over it, at the limit or left on', () => {
    expect(find(lead(105))).toEqual([])
    expect(find(lead(105.1))[0]).toMatchObject({ rule: 'connectors-hot', severity: 'warning', place: HEAT })
    const [f] = find(lead(90), lead(80, { leftOnC: 130 }))
    expect(f!.title).toBe(
      '1 run to a board with connectors, and the plate gets to 80 °C, left on past its limit to 130 °C: usual housings bear 105 °C.',
    )
    expect(f!.parts).toEqual(['contacts', 'wire B1 out'])
  })
  test('none there, or none on the plate', () => {
    expect(find(lead(120, { connectors: 0 }))).toEqual([])
    expect(find(lead(120, { part: 'channel' }))).toEqual([])
    const { power: _, ...bare } = gannet
    expect(connectorsHot(bare as Lamp, parts({ wiring: [lead(120)] }))).toEqual([])
  })
})

describe('a hot day of 40 °C (our choice), emitters that bear 140 °C', () => {
  const mode = (name: string, topC: number, kind = 'empty'): PowerParts['modes'][number] => ({
    ...{ id: name, name, limit: { kind, atS: 600, boardIndex: null }, steppedDown: null, sagsFromS: null },
    ...{ letGoFromS: null, steady: null, channels: [], limits: [], watchedC: [20], protection: null },
    curves: { plateMaxC: [20, 60], junctionMaxC: [20, topC], tS: [0, 600] },
  })
  const at = (ambientC: number, ...modes: PowerParts['modes']) =>
    hotDay({ ...gannet, reading: { ...gannet.reading, ambientC } }, parts({ modes }))[0]
  test('12.4 K under the limit in 20 °C: reached in 32 °C', () => {
    expect(at(20, mode('High', 127.6))).toMatchObject({ rule: 'hot-day', severity: 'warning', place: HEAT })
    expect(at(20, mode('Low', 60), mode('High', 127.6), mode('Mid', 122))!.title).toBe(
      '“High” and “Mid” (least in “High”) stay 12 K under the emitters’ limit of 140 °C in air of 20 °C: in air of 32 °C it is reached.',
    )
    expect([at(20, mode('High', 120)), at(20, mode('High', 119))]).toEqual([undefined, undefined])
  })
  test('in air of 45 °C five kelvin are asked for; one that ends at the limit has its own finding', () => {
    expect([at(45, mode('A', 135.1)) !== undefined, at(45, mode('A', 135))]).toEqual([true, undefined])
    expect(at(20, mode('A', 140, 'junction'))).toBeUndefined()
    const { cooling: _, ...bare } = gannet
    expect(hotDay(bare as Lamp, parts({ modes: [mode('A', 139)] }))).toEqual([])
  })
})
