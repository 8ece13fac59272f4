import { expect, test } from 'vitest'
import { THIN } from '../../../../src/app/common/format.ts'
import {
  colourRange,
  hottestAt,
  plateImage,
  plateTemperatures,
  rangeWords,
  runRange,
} from '../../../../src/app/common/plateFrames.ts'
import { momentWords, prefersLog, timeScale } from '../../../../src/app/common/timeScale.ts'
import { factsOf } from '../../../../src/app/power/model/facts.ts'
import { energyAt, energyWords, onCurve, plotCurves } from '../../../../src/app/power/model/plot.ts'
import { runPower } from '../../../../src/job/power/run.ts'
import { gannetHead } from '../../../../src/library/demos.ts'
import { alikeChannels } from '../../../../src/report/wiringBlocks.ts'
import { column, fakeRun } from '../../../kit/fakePower.ts'

const plain = (text: string) => text.replaceAll(THIN, ' ')

test('seconds stand evenly in a short run and in decades in one of hours; the scale can be read backwards', () => {
  expect([prefersLog(280), prefersLog(20_000)]).toEqual([false, true])
  const short = timeScale(100, 0, 1000)
  expect([short.x(0), short.x(50), short.x(100), short.at(250)]).toEqual([0, 500, 1000, 25])
  expect(short.ticks.map((t) => plain(t.words))).toEqual(['0 s', '20 s', '40 s', '1 min', '1.33 min', '1.67 min'])
  const long = timeScale(10_000, 0, 400)
  expect([long.x(0), long.x(1), long.x(100), long.x(10_000)]).toEqual([0, 0, 200, 400])
  expect(long.at(300)).toBeCloseTo(1000, 6)
  expect(long.ticks.map((t) => plain(t.words))).toEqual(['1 s', '10 s', '1 min', '10 min', '1 h'])
})

test('a run that ends at once has a scale that does not divide by nothing', () => {
  expect(Number.isFinite(timeScale(0, 0, 100).x(0))).toBe(true)
  expect(plotCurves(column(0), [column(5)], timeScale(0, 0, 100), [0, 50], false).paths[0]).toMatch(/^M/)
})

test('moments in words', () => {
  expect([9.53, 59, 60, 283.2, 20_900].map((s) => plain(momentWords(s)))).toEqual([
    '9.53 s',
    '59 s',
    '1 min',
    '4.72 min',
    '5.81 h',
  ])
})

test('curves of one plot share its scale, highest at the top', () => {
  const { curves } = fakeRun()
  const plot = plotCurves(curves.tS, [curves.junctionMaxC, curves.plateMaxC], timeScale(100, 0, 100), [10, 60], true)
  expect(plot.y(0)).toBe(60)
  expect(plot.y(120)).toBeGreaterThanOrEqual(10)
  expect(plot.y(120)).toBeLessThan(plot.y(100))
  expect(plot.paths).toHaveLength(2)
})

test('between two moments everything is taken straight; the hottest board changes on the way', () => {
  const run = fakeRun()
  expect(onCurve(run.curves.tS, run.curves.lm, 30)).toBe(940)
  expect(onCurve(run.curves.tS, run.curves.lm, 1e9)).toBe(800)
  expect(plateTemperatures(run.plateFrames, 25)[0]).toBe(40)
  expect(Number.isNaN(plateTemperatures(run.plateFrames, 25)[1]!)).toBe(true)
  expect(runRange(run.plateFrames)).toEqual([20, 100])
  expect(colourRange(run.plateFrames, 'run', 25)).toEqual([20, 100])
  // One cell: never less than 2 K, or noise would shine.
  expect(colourRange(run.plateFrames, 'moment', 25)).toEqual([40, 42])
  expect(plain(rangeWords(run.plateFrames, 'moment', 25))).toBe('Plate now even, 40 °C')
  expect(plain(rangeWords(run.plateFrames, 'run', 25))).toBe(
    'Plate now even, 40 °C; colours over the whole run, 20 to 100 °C',
  )
  const wide = { ...run.plateFrames, frames: run.plateFrames.frames.map((f) => Float32Array.of(f[0]!, 20)) }
  expect(plain(rangeWords(wide, 'moment', 100))).toBe('Plate now 20 to 100 °C')
  const pixels = plateImage(wide, colourRange(wide, 'moment', 100), 100)
  expect([pixels[3], pixels[7]]).toEqual([255, 255])
  expect(pixels[0]!).toBeGreaterThan(pixels[4]!)
  expect(plateImage(run.plateFrames, [20, 100], 100)[7]).toBe(0)
  // A film's rows go up from low y, a picture's down from its top.
  const tall = {
    ...run.plateFrames,
    columns: 1,
    rows: 2,
    frames: run.plateFrames.frames.map(() => Float32Array.of(20, 100)),
  }
  const [top, foot] = [plateImage(tall, [20, 100], 0)[0]!, plateImage(tall, [20, 100], 0)[4]!]
  expect(top).toBeGreaterThan(foot)
  expect(hottestAt(run, 10)).toEqual({ index: 1, c: 40 })
  expect(hottestAt(run, 75)).toEqual({ index: 0, c: 100 })
})

test('the account: shares sum to one, what is nothing is left out, one unit for all', () => {
  const { inJ, lines } = energyAt(fakeRun(), 100)
  expect(inJ).toBe(7200)
  expect(lines.reduce((sum, l) => sum + l.share, 0)).toBeCloseTo(1, 9)
  expect(lines.map((l) => l.name)).not.toContain('Into the tunnel’s wall')
  expect(energyAt(fakeRun(), 0).lines).toEqual([])
  expect([plain(energyWords(360)), plain(energyWords(360, 7200))]).toEqual(['360 J', '0.1 Wh'])
})

test('what a mode comes to: what limits first and when, no FL 1 time for one that ends bright', () => {
  const rows = (run = fakeRun()) =>
    Object.fromEntries(factsOf(run, (i) => `B${i + 1}`).map((f) => [f.name, plain(f.value)]))
  expect(rows()).toMatchObject({
    'What limits first': 'a junction at its limit, board B1',
    'Time to it': '1.6 min',
    'Run time, FL 1': 'none: ends before that, with light',
    'Would settle at': '180 °C, over the limit',
    'Half cooled after': '4 min',
  })
  const settled = rows(fakeRun({ limit: { kind: 'steady', atS: 100, boardIndex: null }, coolHalfS: null }))
  expect(settled['What limits first']).toBe('nothing: it settles')
  expect(settled).not.toHaveProperty('Time to it')
  expect(rows(fakeRun({ steppedDown: { atS: 30, toShare: 0.5 } }))['Steps down']).toBe('to 50 % after 30 s')
})

test('the picture gathers channels that are alike; one wire longer stands for itself', () => {
  const lamp = gannetHead()
  const of = (l = lamp) => alikeChannels(runPower(l, { mode: '' }).wiring)
  expect(of().map((r) => [r.count, r.boards, r.group, r.into.channel])).toEqual([[19, 19, 'all', 'B1']])
  const harness = { ...lamp.power!.harness, channelLengthMm: { B7: 900 } }
  expect(of({ ...lamp, power: { ...lamp.power!, harness } }).map((r) => [r.count, r.into.channel])).toEqual([
    [18, 'B1'],
    [1, 'B7'],
  ])
})
