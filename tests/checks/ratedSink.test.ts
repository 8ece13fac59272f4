// A sink by its data sheet: what is said of its flow, of its largest heat, and where other findings name it.
import { describe, expect, test } from 'vitest'
import { junctionOver as junctionOverRule } from '../../src/checks/power/junctionOver.ts'
import { ratedSink as ratedSinkRule } from '../../src/checks/power/ratedSink.ts'
import { touchHot as touchHotRule } from '../../src/checks/power/touchHot.ts'
import { weight as weightRule } from '../../src/checks/power/weight.ts'
import type { PowerParts } from '../../src/checks/powerParts.ts'
import { powerFindings, runPower } from '../../src/job/power/run.ts'
import type { Lamp, Mode, Sink } from '../../src/lamp/schema.ts'
import { modeWords } from '../../src/report/power.ts'
import { table } from '../kit/fakeWorst.ts'
import { metricRule } from '../kit/metricRules.ts'
import { onePlate } from '../kit/onePlate.ts'

const junctionOver = metricRule(junctionOverRule)
const ratedSink = metricRule(ratedSinkRule)
const touchHot = metricRule(touchHotRule)
const weight = metricRule(weightRule)

type Rated = Extract<Sink, { kind: 'rated' }>
function lampOf(over: Partial<Rated> = {}, stepDown: Mode['stepDown'] = null): Lamp {
  const sink: Rated = { kind: 'rated', resistanceKW: 2, heatCapacityJK: 500, flow: 'natural', ...over }
  const lamp = onePlate({ sink })
  return { ...lamp, power: { ...lamp.power!, modes: [{ id: 'on', name: 'On', share: 1, stepDown }] } }
}
/** One mode whose plate, sink and heat take these values, a minute apart. */
function partsOf(plateC: number[], sinkC: number[], sinkW: number[]): PowerParts {
  const curves = { plateMaxC: plateC, junctionMaxC: plateC, sinkC, sinkW, tS: plateC.map((_, i) => 60 * i) }
  return {
    ...table({}),
    modes: [
      {
        ...{ id: 'on', name: 'On', limit: { kind: 'junction', atS: 60, boardIndex: 0 }, steppedDown: null },
        ...{ sagsFromS: null, letGoFromS: null, steady: null, channels: [], curves },
        ...{ limits: [], watchedC: plateC, protection: null },
      },
    ],
    wiring: [],
    sink: { speedMS: null, leftOutFins: 0, plateKg: 1, finKg: 0 },
  }
}
const parts = partsOf([20, 66.2], [20, 51.3], [0, 11.04])
const rulesOf = (lamp: Lamp, of = parts) => ratedSink(lamp, of).map((f) => [f.rule, f.severity])

describe('largest heat', () => {
  test('over it: a warning with both numbers; just under it, or without one: none', () => {
    const [f] = ratedSink(lampOf({ maxW: 11 }), parts)
    expect(f).toMatchObject({ rule: 'sink-over-rating', severity: 'severe' })
    expect(f!.title).toBe('The sink takes 11.1 W in “On”: over the 11 W of its data sheet.')
    expect(f!.why).toMatch(/heat pipes dry out/)
    expect(rulesOf(lampOf({ maxW: 11.1 }))).toEqual([['sink-as-rated', 'note']])
    const [unsaid] = ratedSink(lampOf(), parts)
    expect(unsaid).toMatchObject({ rule: 'sink-as-rated' })
    expect(unsaid!.why).toMatch(/No largest heat is given, so none is checked/)
  })
  test('in a run: 11 W into a sink for 10 W, in the line of the mode and in the findings; for 12 W in neither', () => {
    const words = (maxW: number) => {
      const lamp = lampOf({ maxW })
      const report = runPower(lamp)
      return [
        modeWords(report.modes[0]!),
        powerFindings(lamp, report)
          .map((f) => f.title)
          .join('\n'),
      ]
    }
    const [line, found] = words(10)
    expect(line).toMatch(/min until the sink takes more than the 10 W of its data sheet/)
    expect(found).toMatch(/^The sink takes 11 W in “On”: over the 10 W of its data sheet\.$/m)
    const [quiet, none] = words(12)
    expect(quiet).not.toMatch(/data sheet/)
    expect(none).not.toMatch(/over the/)
  })
})

describe('the flow that the resistance holds for', () => {
  const plate: Mode['stepDown'] = { watch: 'plate', atC: 60, toShare: 0.2 }
  test.each<[Rated['flow'], Mode['stepDown'], string]>([
    ['natural', null, 'note'],
    ['forced', null, 'warning'],
    ['forced', { watch: 'time', afterS: 60, toShare: 0.2 }, 'warning'],
    ['forced', plate, 'note'],
  ])('%s, step-down %o: %s', (flow, stepDown, severity) =>
    expect(rulesOf(lampOf({ flow }, stepDown))).toEqual([['sink-as-rated', severity]]),
  )
  test('names the sink with its numbers, and the modes that nothing watches', () => {
    expect(ratedSink(lampOf(), parts)[0]!.title).toBe('The sink counts as rated: 2 K/W and 500 J/K, in still air.')
    expect(ratedSink(lampOf({ flow: 'forced' }), parts)[0]!.title).toBe(
      'The sink counts as rated, 2 K/W and 500 J/K, with its fan or pump running: nothing steps “On” down when that stops.',
    )
  })
  test('another sink, or a face without boards: nothing', () => {
    expect(ratedSink(onePlate(), parts)).toEqual([])
    expect(ratedSink({ ...lampOf(), boards: [] }, parts)).toEqual([])
  })
})

describe('other findings', () => {
  test('touch: the base of the sink, where it is known', () => {
    expect(touchHot(lampOf(), parts)[0]!.why).toMatch(
      /is taken for all of it, the base of the sink gets to 52 °C; the metal/,
    )
    expect(touchHot(onePlate(), parts)[0]!.why).toMatch(/is taken for all of it; the metal/)
  })
  test('an emitter over its limit: moving the air would not help', () => {
    expect(junctionOver(lampOf(), parts)[0]!.cure).toMatch(/a sink of less resistance/)
    expect(junctionOver(onePlate(), parts)[0]!.cure).toMatch(/more sink or moving air/)
  })
  test('weight: the sink’s isn’t known', () => {
    expect(weight(lampOf(), parts)[0]!.why).toMatch(/the sink, tunnel, housing/)
    expect(weight(onePlate(), parts)[0]!.why).not.toMatch(/the sink/)
  })
})
