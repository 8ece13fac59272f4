import { expect, test } from 'vitest'
import { boardIdsOf, withBoardsIn } from '../../../src/app/common/groupEdits.ts'
import { wiredWords } from '../../../src/app/parts/BoardsPart.tsx'
import {
  airOf,
  gaugeOf,
  groupStartA,
  sinkOf,
  supplyOf,
  thermalOf,
  withChannelLength,
  withCooling,
  withCopy,
  withCutOut,
  withFinLength,
  withFoldBack,
  withGroupA,
  withItem,
  without,
  withoutItem,
  withPower,
  withPulses,
  withRatedSink,
  withSensor,
  withStrings,
  withThermal,
} from '../../../src/app/parts/powerEdits.ts'
import { lampFault } from '../../../src/app/store/tryEdit.ts'
import { readFlicker } from '../../../src/hazard/flicker.ts'
import type { Gauge } from '../../../src/lamp/schema.ts'
import { gannetHead, wideArray } from '../../../src/library/demos.ts'
import { coolingOf, powerOf } from '../../../src/library/typicalPower.ts'
import { gaugeAreaMm2 } from '../../../src/power/wire.ts'

test('a lamp that says nothing takes the typical into its document with the first edit', () => {
  const lamp = wideArray()
  expect([lamp.cooling, lamp.power]).toEqual([undefined, undefined])
  const cooled = withCooling(lamp, { finish: 'painted' })
  expect(cooled.cooling).toEqual({ ...coolingOf(lamp).value, finish: 'painted' })
  const fed = withPower(cooled, (p) => ({ ...p, supply: { ...p.supply, name: 'Mine' } }))
  expect(fed.power!.drivers).toEqual(powerOf(lamp).value.drivers)
  expect(lampFault(fed)).toBe(null)
})

test('every kind of sink, air and supply that a field offers fits the file', () => {
  for (const sink of (['none', 'fins', 'pins', 'rated'] as const).map(sinkOf))
    for (const air of (['still', 'moved', 'fan'] as const).map(airOf))
      expect(lampFault(withCooling(gannetHead(), { sink, air })), `${sink.kind} ${air.kind}`).toBe(null)
  const fixed = withPower(gannetHead(), (p) => ({ ...p, supply: supplyOf('fixed', p) }))
  expect(fixed.power!.supply).toMatchObject({ kind: 'fixed', volts: 37 })
  const back = withPower(fixed, (p) => ({ ...p, supply: supplyOf('pack', p) }))
  expect(back.power!.supply).toMatchObject({ kind: 'pack', series: 10 })
  expect([lampFault(fixed), lampFault(back)]).toEqual([null, null])
})

test('a sink by its data sheet: its entries change, its largest heat comes and goes; another sink stays as it is', () => {
  const lamp = withCooling(gannetHead(), { sink: sinkOf('rated') })
  const most = withRatedSink(lamp, (s) => ({ ...s, resistanceKW: 0.2, maxW: 90 }))
  expect(most.cooling!.sink).toMatchObject({ kind: 'rated', resistanceKW: 0.2, maxW: 90 })
  expect(lampFault(most)).toBe(null)
  expect(withRatedSink(most, (s) => without(s, 'maxW')).cooling!.sink).not.toHaveProperty('maxW')
  const fins = gannetHead()
  expect(withRatedSink(fins, (s) => ({ ...s, maxW: 90 }))).toBe(fins)
})

test('cut-out and fold-back come and go each by itself; without both the document says nothing of protection', () => {
  const power = gannetHead().power!
  const cutOut = { openC: 80, closeC: 65 }
  const foldBack = { startC: 60, endC: 80, leastShare: 0.3 }
  const both = withFoldBack(withCutOut(power, cutOut), foldBack)
  expect(both.protection).toEqual({ cutOut, foldBack })
  expect(lampFault({ ...gannetHead(), power: both })).toBe(null)
  expect(withCutOut(both, null).protection).toEqual({ foldBack })
  expect(withFoldBack(withCutOut(both, null), null)).toEqual(power)
  const sensor = { xMm: 10, yMm: 0, lagS: 8 }
  const placed = withSensor(both, sensor)
  expect(placed.protection).toEqual({ cutOut, foldBack, sensor })
  expect(lampFault({ ...gannetHead(), power: placed })).toBe(null)
  expect(withSensor(placed, null)).toEqual(both)
  // It goes with the last of what reads it.
  expect(withFoldBack(withCutOut(placed, null), null)).toEqual(power)
})

test('rows: another one has a name of its own, away with it leaves the rest as it was', () => {
  const power = gannetHead().power!
  const { power: more, id } = withCopy(power, 'modes', 'turbo')
  expect(more.modes.map((m) => m.id)).toEqual(['low', 'high', 'turbo', id])
  expect(lampFault({ ...gannetHead(), power: more })).toBe(null)
  expect(withoutItem(more, 'modes', id)).toEqual(power)
  expect(withItem(power, 'modes', 'low', { share: 0.2 }).modes[0]).toMatchObject({ id: 'low', share: 0.2 })
  // A driver that a group still names can't go.
  const orphan = withoutItem(withCopy(power, 'drivers', 'buck').power, 'drivers', 'buck')
  expect(lampFault({ ...gannetHead(), power: orphan })).toMatch(/no driver called "buck"/)
})

test('the other system of gauges takes the next thicker size of the trade', () => {
  // IEC 60228 sizes; AWG 18 is 0.823 mm² (ASTM B258).
  const from: Gauge = { system: 'awg', number: 18 }
  expect(gaugeOf('mm2', from, gaugeAreaMm2(from))).toEqual({ system: 'mm2', mm2: 1 })
  expect(gaugeOf('awg', { system: 'mm2', mm2: 1.5 }, 1.5)).toEqual({ system: 'awg', number: 15 })
  for (let number = -3; number <= 40; number++) {
    const area = gaugeAreaMm2({ system: 'awg', number })
    expect(gaugeOf('awg', { system: 'mm2', mm2: area }, area)).toEqual({ system: 'awg', number })
  }
})

test('boards come into a group by name; those that name none stay in the first', () => {
  const lamp = gannetHead()
  const { power, id } = withCopy(lamp.power!, 'groups', 'all')
  const split = withBoardsIn({ ...lamp, power }, id, ['B2', 'B3'])
  expect(lampFault(split)).toBe(null)
  expect([boardIdsOf(split, 'all').length, boardIdsOf(split, id)]).toEqual([17, ['B2', 'B3']])
})

test('what lies under a board: typical until edited, then the lamp’s own', () => {
  const lamp = gannetHead()
  const type = lamp.boardTypes[0]!
  const typical = thermalOf(lamp, type)
  const edited = withThermal(lamp, type.id, { jointKcm2W: 2 })
  expect(edited.boardTypes[0]!.thermal).toEqual({ padKW: typical.padKW, jointKcm2W: 2 })
  expect(lampFault(edited)).toBe(null)
})

test('strings, currents of a group, single wires and fins: set, and gone without a trace when set back', () => {
  const lamp = gannetHead()
  const type = lamp.boardTypes[0]!.id
  const seven = withStrings(lamp, type, 7)
  expect(seven.boardTypes[0]!.strings).toBe(7)
  expect(withStrings(seven, type, 1)).toEqual(lamp)
  expect([wiredWords(7, 1), wiredWords(6, 2), wiredWords(7, 2)]).toEqual([
    'All 7 in series.',
    '3 in series × 2 in parallel: the driver gives 2 times an emitter’s current.',
    '7 emitters can’t make 2 equal strings.',
  ])

  const power = lamp.power!
  const turbo = power.modes.find((m) => m.id === 'turbo')!
  expect(groupStartA(lamp, turbo, 'all')).toBe(turbo.share * lamp.boards[0]!.currentA)
  const own = withGroupA(power, 'turbo', 'all', 1.2)
  expect(own.modes.find((m) => m.id === 'turbo')!.groupA).toEqual({ all: 1.2 })
  expect(withGroupA(own, 'turbo', 'all', null)).toEqual(power)

  const long = withChannelLength(withChannelLength(power, 'B3', 1200), 'B7', 900)
  expect(long.harness.channelLengthMm).toEqual({ B3: 1200, B7: 900 })
  expect(withChannelLength(withChannelLength(long, 'B3', null), 'B7', null)).toEqual(power)

  const fins = withCooling(lamp, { sink: sinkOf('fins') })
  const inputs = withFinLength(fins, 180)
  expect(inputs.cooling!.sink).toMatchObject({ kind: 'fins', lengthMm: 180 })
  expect(withFinLength(inputs, null)).toEqual(fins)
  for (const l of [seven, { ...lamp, power: own }, { ...lamp, power: long }, inputs]) expect(lampFault(l)).toBe(null)
})

test('pulses: frequency and depth are set, judged, and gone without a trace when taken back', () => {
  const lamp = gannetHead()
  const driver = lamp.power!.drivers[0]!.id
  const pulsed = withItem(lamp.power!, 'drivers', driver, { dimming: 'pulse width' })
  const verdict = (power: typeof pulsed) => readFlicker({ ...lamp, power })[0]!.verdict
  expect(verdict(pulsed)).toBe('frequency not stated')
  const slow = withPulses(pulsed, driver, 'pwmHz', 100)
  expect(slow.drivers[0]).toEqual({ ...pulsed.drivers[0], pwmHz: 100 })
  // IEEE 1789-2015 (memory): at 100 Hz low risk ends at 8 % of depth, at 3.33 % nothing is observed.
  expect(verdict(slow)).toBe('beyond low risk')
  const shallow = withPulses(slow, driver, 'pwmModulationPercent', 3)
  expect(verdict(shallow)).toBe('no observable effect')
  expect(lampFault({ ...lamp, power: shallow })).toBe(null)
  expect(lampFault({ ...lamp, power: withPulses(slow, driver, 'pwmModulationPercent', 101) })).toMatch(
    /^Power, pwm modulation percent: 101 /,
  )
  const back = withPulses(withPulses(shallow, driver, 'pwmModulationPercent', null), driver, 'pwmHz', null)
  expect(back).toEqual(pulsed)
})

test('a rating that need not be named is taken away without a trace; the rest and the original stay', () => {
  const { harness } = gannetHead().power!
  const bare = without(harness, 'connectorMaxA')
  expect('connectorMaxA' in bare).toBe(false)
  expect({ ...bare, connectorMaxA: harness.connectorMaxA }).toEqual(harness)
  expect(harness.connectorMaxA).toBe(40)
})
