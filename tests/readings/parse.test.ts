import { describe, expect, test } from 'vitest'
import type { ReadingSet } from '../../src/lamp/readings.ts'
import { parseReadings } from '../../src/readings/parse.ts'

function setsOf(text: string, options = {}): ReadingSet[] {
  const parsed = parseReadings(text, options)
  if (!parsed.ok) throw new Error(parsed.why.join(' '))
  return parsed.sets
}
const whyOf = (text: string): string => {
  const parsed = parseReadings(text)
  return parsed.ok ? '' : parsed.why.join(' ')
}

const LINE = {
  kind: 'line',
  distanceM: 10,
  rows: [
    { atMm: 0, lx: 8000 },
    { atMm: 250, lx: 6400.5 },
  ],
}

describe('the same line, however it is typed', () => {
  test.each([
    ['CSV', 'wall: 10 m\nacross mm, lx\n0,8000\n250,6400.5\n'],
    ['from a spreadsheet, with tabs and a decimal comma', 'wall:\t10 m\nacross mm\tlx\n0\t8000\n250\t6400,5'],
    [
      'semicolons, as spreadsheets write CSV where the comma is decimal',
      'wall;10\nacross mm;lx\n0;8.000\n250;6.400,5\n',
    ],
    ['metres and kilolux', 'wall: 10 m\nacross (m), E [klx]\n0, 8\n0.25, 6.4005'],
    ['centimetres, feet of wall', `wall: ${10 / 0.3048} ft\nx in cm, lux\n0,8000\n25,6400.5`],
    ['a unit in the cell', 'wall: 10 m\r\nacross mm, lx\r\n0, 8 klx\r\n0.25 m, 6400.5\r\n'],
    ['spaces alone', 'wall: 10 m\nacross mm   lx\n0   8000\n250   6400.5'],
  ])('%s', (_, text) => {
    const [set] = setsOf(text)
    expect(set).toMatchObject({ kind: 'line', distanceM: expect.closeTo(10, 9) })
    expect(set?.rows).toEqual(LINE.rows.map((r) => ({ atMm: expect.closeTo(r.atMm, 9), lx: expect.closeTo(r.lx, 9) })))
  })

  test('footcandles are lux by the square of a foot', () => {
    const [set] = setsOf('distance ft, fc\n10, 100')
    expect(set).toMatchObject({ kind: 'axis', rows: [{ distanceM: 3.048, lx: expect.closeTo(1076.391, 3) }] })
  })
})

test('each kind by its columns, several tables with a blank line between', () => {
  const sets = setsOf(`mode: high
after: 30 s
stray: 0.2 lx
meter class: B
calibration: 4 %

wall: 12 m
faces: lamp
across mm, up mm, lx
0, 0, 100
10, 0, 90

distance m, lx
3, 400
6, 100

time min, lx
0.5, 100
10, 92

known: 806 lm
known lx, lx
100, 500

time s, plate °C, volts, amps
0, 21, 25.2, 8.1
60, 35, 24.8, 8.0`)
  expect(sets.map((s) => s.kind)).toEqual(['grid', 'axis', 'time', 'bounce', 'running'])
  for (const set of sets)
    expect(set).toMatchObject({ mode: 'high', afterS: 30, strayLx: 0.2, meter: { class: 'B', calibrationPct: 4 } })
  expect(sets[0]).toMatchObject({ faces: 'lamp', distanceM: 12 })
  expect(sets[2]).toMatchObject({ rows: [{ atS: 30 }, { atS: 600 }] })
  expect(sets[4]?.rows[1]).toEqual({ atS: 60, plateC: 35, packV: 24.8, packA: 8 })
})

test('tables pasted from two places, each written in its own way', () => {
  const sets = setsOf(
    'wall: 4 m\nacross mm\tlx\n0\t675,5\n150\t653\n\ntime s, plate C, lamp V\n30,20.4,12.15\n300,26.5,11.93\n',
  )
  expect(sets[0]?.rows).toEqual([
    { atMm: 0, lx: 675.5 },
    { atMm: 150, lx: 653 },
  ])
  expect(sets[1]?.rows).toEqual([
    { atS: 30, plateC: 20.4, lampV: 12.15 },
    { atS: 300, plateC: 26.5, lampV: 11.93 },
  ])
  const parsed = parseReadings('wall: 4 m\nacross mm\tlx\n0\t675\n\ntime s, plate C\n30,warm\n')
  expect(parsed.ok ? '' : parsed.why.join(' ')).toMatch(/^Line 6: temperatures: "warm" is no number/)
})

test('commas that may be thousands are taken as such, and it is said', () => {
  const parsed = parseReadings('distance m\tlx\n2\t1,234\n4\t2,500')
  expect(parsed.ok && parsed.sets[0]?.rows).toMatchObject([{ lx: 1234 }, { lx: 2500 }])
  expect(parsed.notes.join(' ')).toContain('thousands')
})

test('what was not read is counted, what was over the range is said', () => {
  const parsed = parseReadings('wall: 5 m\nacross mm, lx\n0, OL\n100, 900\n200,\n300, 100')
  expect(parsed.ok && parsed.sets[0]?.rows).toHaveLength(2)
  expect(parsed.notes.join(' ')).toMatch(/Line 3: over the meter’s range/)
  expect(parsed.notes.join(' ')).toMatch(/One place has no reading yet/)
})

test('a table without headings needs to be told what it is', () => {
  expect(whyOf('0, 8000\n250, 6400')).toMatch(/Line 1: no headings/)
  expect(setsOf('0, 8000\n250, 6400', { kind: 'line', defaults: { wallM: 10 } })[0]).toMatchObject({
    kind: 'line',
    distanceM: 10,
  })
})

test('faults name their line', () => {
  expect(whyOf('')).toMatch(/no readings/)
  expect(whyOf('across mm, lx\n0, 8000')).toMatch(/how far the wall stands/)
  expect(whyOf('wall: 10 m\nacross mm, lx\n0, bright\n1, 2')).toBe('Line 3: lux: "bright" is no number.')
  expect(whyOf('wall: 10 m\nacross mm, lx\n0, 5 candela')).toMatch(/Line 3: lux: “candela” is no unit of it/)
  expect(whyOf('wall: ten\nacross mm, lx\n0, 5')).toMatch(/Line 1: wall: "ten" is no number/)
  expect(whyOf('faces: north\nacross mm, lx\n0, 5')).toMatch(/expected wall or lamp/)
  expect(whyOf('wall: 5 m\nacross mm, lx\n0, -5')).toMatch(/can’t be negative/)
})

test('names stay apart', () => {
  const parsed = parseReadings('distance m, lx\n1, 2', { taken: ['axis'] })
  expect(parsed.ok && parsed.sets[0]?.id).toBe('axis 2')
})

test('a decimal comma in a line above the table is one, whatever parts the table’s cells', () => {
  for (const text of [
    'wall: 5,5 m\nstray: 0,3\n\nacross mm,lx\n0,100\n50,90\n100,50',
    'wall: 5,5 m\nstray: 0,3\nacross mm,lx\n0,100\n50,90\n100,50',
    'wall: 5,5 m;;\nstray: 0,3;;\n\nacross mm;lx\n0;100\n50;90\n100;50',
    'wall: 5,5 m,,\nstray: 0,3,,\n\nacross mm,lx\n0,100\n50,90\n100,50',
  ]) {
    const read = parseReadings(text)
    expect(read.ok && read.sets[0], text).toMatchObject({ distanceM: 5.5, strayLx: 0.3 })
  }
})
