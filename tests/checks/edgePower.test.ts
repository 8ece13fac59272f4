// Lamps at the edge of what a document permits: a sentence for each, nothing thrown, nothing that is no number.
import { describe, expect, test } from 'vitest'
import { powerFindings, runPower } from '../../src/job/power/run.ts'
import type { Cooling, Lamp, Mode, Pack, Sink } from '../../src/lamp/schema.ts'
import { gannetHead } from '../../src/library/demos.ts'
import { modeWords } from '../../src/report/power.ts'
import { expectWithin } from '../kit/expect.ts'

const gannet = gannetHead()
const modes = gannet.power!.modes.filter((m) => m.id === 'turbo')
const turbo = modes[0]!
const withModes = (all: Mode[], lamp: Lamp = gannet): Lamp => ({ ...lamp, power: { ...lamp.power!, modes: all } })
const cooled = (over: Partial<Cooling>): Lamp =>
  withModes(modes, { ...gannet, cooling: { ...gannet.cooling!, ...over } })
const fan = (...curve: [flowM3h: number, pascal: number][]) =>
  ({ kind: 'fan', curve: curve.map(([flowM3h, pascal]) => ({ flowM3h, pascal })) }) as const

function soundRun(lamp: Lamp) {
  const report = runPower(lamp)
  const findings = powerFindings(lamp, report)
  const text = [...report.modes.map((m) => modeWords(m)), JSON.stringify([findings, report.sink, report.worst])].join(
    '\n',
  )
  expect(text).not.toMatch(/NaN|Infinity|undefined|speedMS":null.*fan-idle/)
  for (const m of report.modes)
    for (const curve of Object.values(m.curves)) expect(curve.every(Number.isFinite)).toBe(true)
  return { report, lines: report.modes.map((m) => modeWords(m)), rules: findings.map((f) => f.rule), findings }
}

describe('fans', () => {
  const sinks: Record<string, Sink> = {
    fins: gannet.cooling!.sink,
    none: { kind: 'none' },
    pins: { kind: 'pins', count: 200, heightMm: 40, diameterMm: 4, spacingMm: 8 },
  }
  test.each(Object.entries(sinks))('a curve without pressure on %s: as still air, and said', (_, sink) => {
    const { report, findings } = soundRun(cooled({ sink, air: fan([0, 0], [100, 0]) }))
    expect(report.sink.speedMS).toBe(0)
    expect(findings.find((f) => f.rule === 'fan-idle')?.title).toMatch(/^The fan drives no air through the sink/)
    const still = runPower(cooled({ sink })).sink.wattPerK
    // A cylinder in air that stands still conducts a little: Nu 0.3 of Churchill and Bernstein.
    expectWithin(report.sink.wattPerK, still, { rel: 0.01, because: 'nothing is moved' })
  })
  test('a curve that begins with less than the channels need: no more than its first pressure drives', () => {
    const weak = soundRun(cooled({ air: fan([50, 0.001], [100, 0]) }))
    expect(weak.report.sink.speedMS).toBeGreaterThan(0)
    expect(weak.report.sink.speedMS).toBeLessThan(0.05)
    expect(weak.rules).toContain('fan-idle')
    expect(soundRun(cooled({ air: fan([0, 40], [100, 0]) })).rules).not.toContain('fan-idle')
  })
})

describe('nothing to run', () => {
  test('no boards: no modes, no findings on heat', () => {
    const { lines, rules } = soundRun({ ...gannet, boards: [] })
    expect({ lines, rules }).toEqual({ lines: [], rules: [] })
  })
  test.each([
    ['share 0', withModes([{ ...turbo, share: 0 }])],
    [
      'each group 0 A',
      withModes([{ ...turbo, groupA: Object.fromEntries(gannet.power!.groups.map((g) => [g.id, 0])) }]),
    ],
    ['boards of 0 A', withModes(modes, { ...gannet, boards: gannet.boards.map((b) => ({ ...b, currentA: 0 })) })],
  ])('%s: no current is asked for, and no driver is blamed', (_, lamp) => {
    const { lines, rules, report } = soundRun(lamp)
    expect(lines).toEqual(['Turbo: asks for no current, so it gives no light.'])
    expect(report.modes[0]!.limits).toEqual([])
    expect(rules).not.toContain('driver-range')
  })
  test('dark and another mode that finds no voltage: only that one is named', () => {
    const lamp = withModes([{ ...turbo, id: 'dark', name: 'Dark', share: 0 }, turbo])
    const pack: Pack = { ...(gannet.power!.supply as Pack), series: 1 }
    const { findings, lines } = soundRun({ ...lamp, power: { ...lamp.power!, supply: pack } })
    expect(lines[1]).toBe('Turbo: gives no light: the supply’s voltage does not suit the drivers.')
    expect(findings.find((f) => f.rule === 'driver-range')!.title).toMatch(
      /^“Turbo”: .* gives nothing from a supply of 4\.2 V/,
    )
  })
  test('a step-down to nothing: dark from there on', () => {
    const { lines } = soundRun(withModes([{ ...turbo, stepDown: { watch: 'time', afterS: 10, toShare: 0 } }]))
    expect(lines[0]).toMatch(/^Turbo: steps down to 0 % after 10 s, dark from 10 s on, hottest junction \d+ °C\.$/)
  })
})
