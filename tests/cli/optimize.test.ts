import { appendFileSync, readFileSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, test } from 'vitest'
import { readLampText } from '../../src/lamp/read.ts'
import { gannetHead } from '../../src/library/demos.ts'
import { lampwright, scratch } from './kit.ts'

const MOVE = ['--move', 'lens.zMm+tunnel.zOutMm=900..1300']
const ONE = ['optimize', 'demo', ...MOVE, '--want', 'candela max', '--evaluations', '60']

test('the plan: numbers with bounds, choices, wishes, limits', async () => {
  const { optimized, status } = await lampwright([
    ...[
      'optimize',
      'demo',
      '--move',
      'lens.focalMm=900..1100',
      '--move',
      'tunnel.section=round,6',
      '--move',
      'lens=any',
    ],
    ...['--want', 'beam = 8', '--keep', 'junction <= 110', '--keep', 'evenness>=60%', '--rays', '1e5', '--seed', '9'],
    ...['--threads', '3', '--evaluations', '10'],
  ])
  expect(status).toBe(0)
  expect(optimized).toEqual({
    lamp: gannetHead(),
    plan: {
      moves: [
        { kind: 'number', path: 'lens.focalMm', min: 900, max: 1100 },
        { kind: 'choice', path: 'tunnel.section', keys: ['round', '6'] },
        { kind: 'choice', path: 'lens', keys: ['with', 'without'] },
      ],
      wants: [{ figure: 'beamAngleDeg', aim: 'equal', value: 8 }],
      keeps: [
        { figure: 'junctionC', most: 110 },
        { figure: 'targetEvenness', least: 0.6 },
      ],
      seed: 9,
      rays: 1e5,
      evaluations: 10,
    },
    threads: 3,
  })
})

test('as text: the best with what it gains, what could not be built and why, dangers', async () => {
  const { out, err, status } = await lampwright([...ONE, '--keep', 'junction <= 110'])
  expect({ err, status }).toEqual({ err: '', status: 0 })
  expect(out).toMatch(/^Gannet Head\n6\d lamps of 16,384 rays each, seed 1, /)
  expect(out).toMatch(/\(lens\.zMm\+tunnel\.zOutMm\) +(999|1000)(\.\d)? mm +now 1050 mm\n/)
  expect(out).toMatch(/Hottest junction of any mode +90 °C +90 °C +≤ 110 °C\n/)
  // 100 × 50² cd.
  expect(out).toMatch(/2(50,000|49,\d{3}) cd more than the lamp as it stands\./)
  expect(out).toMatch(/\d+ of 6\d could not be compared\n {2}\d+: The lens reaches 1\d{3}(\.\d+)? mm into the wall\.\n/)
  expect(out).toContain('SEVERE It burns.')
  expect(out).not.toMatch(/NaN|undefined|\[object/)
  for (const line of out.split('\n')) expect([...line].length, line).toBeLessThanOrEqual(120)
})

test('a bound is named; limits that nothing keeps are said so, and nothing is written', async () => {
  const edge = await lampwright([
    'optimize',
    'demo',
    '--move',
    'lens.zMm+tunnel.zOutMm=1020..1100',
    '--want',
    'candela max',
  ])
  expect(edge.out).toContain('lens.zMm+tunnel.zOutMm stands at its lower bound, 1020')
  const out = join(scratch(), 'best.json')
  const never = await lampwright([...ONE, '--keep', 'length <= 100', '--out', out])
  expect(never.out).toContain('No lamp within the bounds keeps what is to be kept.')
  expect(never).toMatchObject({ status: 2, err: 'No lamp keeps what is to be kept, so none was written.\n' })
})

test('--out: the best as a lamp file, with its dangers on stderr; --json: one object', async () => {
  const path = join(scratch(), 'best.json')
  const { out, err } = await lampwright([...ONE, '--out', path, '--json'])
  expect(err).toBe(`Wrote ${path}.\nOne severe finding: It burns.\n`)
  const reported = JSON.parse(out)
  expect(reported).toMatchObject({ lamp: 'Gannet Head', rays: 16_384, units: { axialIntensityCd: 'cd' }, lamps: 60 })
  const read = readLampText(readFileSync(path, 'utf8'))
  if (!read.ok) throw new Error(read.why.join())
  expect(read.lamp.lens!.zMm).toBe(reported.confirmation.best.values[0])
  expect(Math.abs(read.lamp.lens!.zMm - 1000)).toBeLessThan(2)
})

describe('--state', () => {
  test('goes on where it was stopped, to the same words; a line that was cut off is dropped', async () => {
    const path = join(scratch(), 'search.jsonl')
    const whole = await lampwright([...ONE, '--json'])
    const first = await lampwright([...ONE, '--json', '--state', path])
    const lines = readFileSync(path, 'utf8').split('\n')
    writeFileSync(path, `${lines.slice(0, 21).join('\n')}\n`)
    appendFileSync(path, lines[21]!.slice(0, 20))
    const second = await lampwright([...ONE, '--json', '--state', path])
    const plain = (out: string) => ({ ...JSON.parse(out), seconds: 0 })
    expect(plain(second.out)).toEqual(plain(first.out))
    expect(plain(second.out)).toEqual(plain(whole.out))
    expect(second.evaluated).toBe(first.evaluated! - 20)
    expect(readFileSync(path, 'utf8').split('\n').sort()).toEqual(lines.sort())
  })

  test('of another search or lamp it is refused', async () => {
    const path = join(scratch(), 'search.jsonl')
    await lampwright([...ONE, '--state', path])
    expect((await lampwright([...ONE, '--seed', '2', '--state', path])).err).toMatch(
      /holds another search of this lamp/,
    )
    const other = ['optimize', 'bench-check', '--move', 'lens.zMm=180..220', '--want', 'candela max', '--state', path]
    expect((await lampwright(other)).err).toMatch(/holds a search of another lamp\.\n$/)
    writeFileSync(path, 'hello\n')
    expect((await lampwright([...ONE, '--state', path])).err).toMatch(/holds no search/)
  })
})

describe('--starts and --part', () => {
  const STARTS = [...ONE.with(-1, '24'), '--starts', '5']
  const untimed = (out: string) => out.replace(/, \d+ threads?, [^;]*;/, ';')

  test.each([
    ['one wish', STARTS],
    ['a front', [...STARTS, '--want', 'length min']],
  ])('%s: parts merged are the run in one go, in words, JSON and the best lamp', async (name, args) => {
    const folder = scratch()
    const file = (of: string) => join(folder, of)
    const hasBest = name === 'one wish'
    const best = (of: string) => (hasBest ? ['--out', file(of)] : [])
    const whole = await lampwright([...args, ...best('whole.json')])
    const json = JSON.parse((await lampwright([...args, '--json'])).out)
    const searched: number[] = []
    for (const part of ['3/3', '1/3', '2/3']) {
      const ran = await lampwright([...args, '--part', part, '--out', file(`part-${part[0]}.json`)])
      expect(ran.out).toMatch(new RegExp(`^Wrote part ${part}, [12] of 5 searches, to `))
      searched.push(...(ran.searched?.starts ?? []))
    }
    expect(searched.sort()).toEqual([0, 1, 2, 3, 4])
    const parts = ['part-2.json', 'part-3.json', 'part-1.json'].map(file)
    const merged = await lampwright(['merge', ...parts, '--threads', '2', ...best('merged.json')])
    expect(merged.out).toBe(untimed(whole.out))
    expect(merged.out).toMatch(/\n1[2-4]\d lamps in 5 searches of 16,384 rays each, seed 1; /)
    const again = JSON.parse((await lampwright(['merge', ...parts, '--json'])).out)
    expect({ ...again, threads: 0, seconds: 0 }).toEqual({ ...json, threads: 0, seconds: 0 })
    if (hasBest) expect(readFileSync(file('merged.json'), 'utf8')).toBe(readFileSync(file('whole.json'), 'utf8'))
  })

  test('a part has the same bytes on any number of threads, after a stop, and is not computed twice', async () => {
    const folder = scratch()
    const part = async (name: string, ...more: string[]) => {
      const at = join(folder, name)
      const ran = await lampwright([...STARTS, '--part', '2/3', '--out', at, ...more])
      return { ...ran, text: readFileSync(at, 'utf8') }
    }
    const first = await part('a.json')
    expect((await part('b.json', '--threads', '3')).text).toBe(first.text)
    const state = join(folder, 'search.jsonl')
    await part('c.json', '--state', state)
    const lines = readFileSync(state, 'utf8').split('\n')
    writeFileSync(state, `${lines.slice(0, 11).join('\n')}\n`)
    const resumed = await part('d.json', '--state', state)
    expect(resumed.text).toBe(first.text)
    expect(resumed.evaluated).toBe(first.evaluated! - 10)
    const again = await part('a.json')
    expect([again.evaluated, again.text]).toEqual([undefined, first.text])
  })

  test.each([
    [['--part', '1/3'], '--part needs --out FILE: merge joins the files of all parts.\n'],
    [
      ['--part', '1/8', '--out', 'p.json'],
      '--part cuts the searches of --starts: 8 parts need as many of them at least.\n',
    ],
    [
      ['--part', '1/3', '--out', 'p.json', '--json'],
      '--part writes a file for merge, which then prints text or --json.\n',
    ],
  ])('%j is refused', async (more, err) => {
    expect(await lampwright([...STARTS, ...more])).toMatchObject({ status: 2, err })
  })
})

test('two wishes: a row for each lamp of the front', async () => {
  const { out } = await lampwright([...ONE, '--want', 'length min', '--evaluations', '100'].toSpliced(6, 2))
  expect(out).toContain('The front: ')
  expect(out.split('\n').filter((line) => /^ {2}[\d,]+ ± \d/.test(line)).length).toBeGreaterThan(8)
})

test('--list: numbers, choices and figures; nothing is evaluated', async () => {
  const { out, optimized } = await lampwright(['optimize', 'demo', '--list'])
  expect(optimized).toBeUndefined()
  expect(out).toMatch(/\ncandela +cd +Axial intensity\n/)
  expect(out).toMatch(/\ntunnel\.section +round +round,4,6,8,12 +Tunnel: cross-section\n/)
  expect(out).toMatch(/\nlens\.zMm +1050 mm +1 to 10,000 +Lens: stands at z\n/)
})

test.each([
  [[], 'optimize needs what may move: --move PATH=MIN..MAX or --move PATH=A,B (see --list).\n'],
  [MOVE, 'optimize needs a wish: --want "candela max", --want "beam = 8" (see --list).\n'],
  [['--move', 'lens.zM=1..2'], '--move: this lamp has no lens.zM (did you mean lens.zMm?) (see --list).\n'],
  [['--move', 'lens.zMm=1:2'], '--move lens.zMm: "1:2" does not fit; expected MIN..MAX.\n'],
  [[...MOVE, '--want', 'candla max'], '--want: no figure candla (did you mean candela?) (see --list).\n'],
  [
    [...MOVE, '--want', 'candela'],
    '--want: "candela" does not fit; expected "FIGURE max", "FIGURE min" or "FIGURE = VALUE".\n',
  ],
  [
    [...MOVE, '--want', 'candela max', '--keep', 'mass 3'],
    '--keep: "mass 3" does not fit; expected "FIGURE <= VALUE" or "FIGURE >= VALUE".\n',
  ],
  [[...MOVE, '--want', 'candela max', '--keep', 'evenness >= 60'], '--keep: 60 is no share; write 0.8 or 80%.\n'],
  [[...MOVE, ...MOVE, '--want', 'candela max'], 'lens.zMm+tunnel.zOutMm: it stands twice.\n'],
  [
    [...MOVE, '--move', 'lens.zMm=900..1100', '--want', 'candela max'],
    'lens.zMm: it moves with another one already.\n',
  ],
])('%j is refused in one sentence', async (args, err) => {
  expect(await lampwright(['optimize', 'demo', ...args])).toMatchObject({ status: 2, out: '', err })
})
