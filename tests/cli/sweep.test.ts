import { readFileSync } from 'node:fs'
import { availableParallelism } from 'node:os'
import { join } from 'node:path'
import { describe, expect, test } from 'vitest'
import { SWEPT_NAMES } from '../../src/job/sweep/figures.ts'
import { gannetHead, stileLamp } from '../../src/library/demos.ts'
import { lampwright, scratch } from './kit.ts'

const GRID = ['--vary', 'lens.zMm=900:1100:3', '--vary', 'optics.collimator-12.fwhmDeg=10,12']
const LINE = ['--vary', 'optics.collimator-20.fwhmDeg=15:25:3']

/** Rows of RFC 4180, quotes and all. */
function readCsv(text: string): string[][] {
  const rows: string[][] = [[]]
  for (const [, cell, end] of text.matchAll(/("(?:[^"]|"")*"|[^,\r\n]*)(,|\r\n)/g)) {
    rows.at(-1)!.push(cell!.startsWith('"') ? cell!.slice(1, -1).replaceAll('""', '"') : cell!)
    if (end === '\r\n') rows.push([])
  }
  return rows.slice(0, -1)
}

describe('what sweep requests', () => {
  test('the lamp, the values, one seed and so many rays for every cell', async () => {
    const { swept, status } = await lampwright([
      'sweep',
      'demo',
      ...GRID,
      '--rays',
      '1e5',
      '--seed',
      '9',
      '--threads',
      '3',
    ])
    expect(status).toBe(0)
    expect(swept).toEqual({
      lamp: gannetHead(),
      axes: [
        { path: 'lens.zMm', values: [900, 1000, 1100] },
        { path: 'optics.collimator-12.fwhmDeg', values: [10, 12] },
      ],
      options: { rays: 1e5, seed: 9, threads: 3 },
    })
    const usual = await lampwright(['sweep', 'stile-lamp', ...LINE])
    expect(usual.swept).toMatchObject({
      lamp: stileLamp(),
      options: { rays: 65_536, seed: 1, threads: availableParallelism() },
    })
  })
})

describe('as text', () => {
  test('a row for each lamp, the best with its ±, what could not be built and why', async () => {
    const { out, err } = await lampwright(['sweep', 'demo', ...GRID])
    expect(err).toBe('')
    expect(out).toMatch(/^Gannet Head\n6 lamps of 65,536 rays each, seed 1, /)
    expect(out).toContain('A  Lens: stands at z (lens.zMm)')
    expect(out).toMatch(/\n +1100 +10 +1,002,000 +± 300 +50,000 +± 43 +- +4\.00 +± 0\.21 +SEVERE front-hot\n/)
    expect(out).toMatch(/\n {2}900 mm, 10°: lens\.zMm: the lens reaches back to 900 mm, into the tunnel/)
    expect(out).toMatch(
      /Axial intensity: highest 1,005,000 ± 300 cd at lens\.zMm 1100 mm,\n +optics\.collimator-12\.fwhmDeg 12°\./,
    )
    expect(out).toContain('SEVERE there: It burns')
    expect(out).toContain('the same random numbers')
    expect(out).not.toMatch(/NaN|undefined|\[object/)
  })

  test('no line is wider than 120 columns', async () => {
    const { out } = await lampwright(['sweep', 'demo', ...GRID])
    for (const line of out.split('\n')) expect([...line].length, line).toBeLessThanOrEqual(120)
  })

  test('--list: every number with its value and limits, nothing traced', async () => {
    const { out, swept } = await lampwright(['sweep', 'demo', '--list'])
    expect(swept).toBeUndefined()
    expect(out).toMatch(/\nlens\.zMm +1050 +mm +1 to 10,000 +Lens: stands at z\n/)
    expect(out).toMatch(/\ntunnel\.sides +0 +3 to 24, whole +Tunnel: sides\n/)
  })
})

describe('--csv', () => {
  test('- is stdout and nothing else: header with units, value and error of every figure, reasons', async () => {
    const { out, err } = await lampwright(['sweep', 'demo', ...GRID, '--csv', '-'])
    expect(err).toBe('')
    const rows = readCsv(out)
    expect(rows).toHaveLength(7)
    const [head, empty, , full] = rows as [string[], string[], string[], string[]]
    for (const row of rows) expect(row).toHaveLength(head.length)
    expect(head.slice(0, 4)).toEqual(['lens.zMm (mm)', 'optics.collimator-12.fwhmDeg (deg)', 'rays', 'seed'])
    for (const name of SWEPT_NAMES)
      expect(
        head.filter((h) => h.startsWith(`${name} (`) || h.startsWith(`${name} se (`)),
        name,
      ).toHaveLength(2)
    const at = (row: string[], name: string) => row[head.indexOf(name)]
    expect([
      at(full, 'lens.zMm (mm)'),
      at(full, 'axialIntensityCd (cd)'),
      at(full, 'axialIntensityCd se (cd)'),
    ]).toEqual(['1100', '1002000', '100'])
    expect(at(full, 'worst finding')).toBe('It burns, "quickly".')
    expect(at(full, 'beamAngleDeg (deg)')).toBe('')
    expect(at(empty, 'why there is no lamp')).toContain('into the tunnel that ends at 1040 mm')
  })

  test('a name is a file; the text says so', async () => {
    const path = join(scratch(), 'sweep.csv')
    const { out } = await lampwright(['sweep', 'stile-lamp', ...LINE, '--csv', path])
    expect(out).toMatch(/Best\n/)
    expect(out.endsWith(`Wrote ${path}.\n`)).toBe(true)
    expect(readCsv(readFileSync(path, 'utf8'))).toHaveLength(4)
  })
})

test('--json is one object: axes with units, cells with figures or a reason', async () => {
  const { out } = await lampwright(['sweep', 'demo', ...GRID, '--json'])
  expect(out.trim().split('\n')).toHaveLength(1)
  const reported = JSON.parse(out)
  expect(reported).toMatchObject({ lamp: 'Gannet Head', rays: 65_536, seed: 1 })
  expect(reported.axes[0]).toEqual({ path: 'lens.zMm', values: [900, 1000, 1100], unit: 'mm' })
  expect(reported.units.axialIntensityCd).toBe('cd')
  expect(reported.cells).toHaveLength(6)
  expect(reported.cells[2]).toMatchObject({
    values: [1100, 10],
    figures: { axialIntensityCd: { value: 1_002_000, se: 100 } },
  })
  expect(reported.cells[0].why).toContain('into the tunnel')
})

test.each([
  [[], 'sweep needs what to vary: --vary PATH=FROM:TO:COUNT (see --list for the paths).\n'],
  [['--vary', 'lens.z=1:2:3'], '--vary: this lamp has no number lens.z (did you mean lens.zMm?) (see --list).\n'],
  [
    ['--vary', 'lens.zMm'],
    '--vary lens.zMm: no values stand behind it; expected FROM:TO:COUNT or values with commas between.\n',
  ],
  [
    ['--vary', 'lens.zMm=1:2'],
    '--vary lens.zMm: "1:2" does not fit; expected FROM:TO:COUNT or values with commas between.\n',
  ],
  [
    ['--vary', 'lens.zMm=1:b:3'],
    '--vary lens.zMm: "b" is no number; expected FROM:TO:COUNT or values with commas between.\n',
  ],
  [
    ['--vary', 'lens.zMm=1,,3'],
    '--vary lens.zMm: "" is no number; expected FROM:TO:COUNT or values with commas between.\n',
  ],
  [
    ['--vary', 'lens.zMm=1:9:2.5'],
    '--vary lens.zMm: a count of 2.5 does not fit; expected a whole number from 1 to 4,096.\n',
  ],
  [['--vary', 'lens.zMm=0:9:2'], '--vary lens.zMm: 0 does not fit; expected at least 1.\n'],
  [['--vary', 'tunnel.sides=3:6:3'], '--vary tunnel.sides: 4.5 does not fit; expected a whole number.\n'],
  [['--vary', 'lens.zMm=5,5'], '--vary lens.zMm: a value stands twice.\n'],
  [['--vary', 'lens.zMm=1:9:2', '--vary', 'lens.zMm=1:9:2'], '--vary lens.zMm: the same parameter stands twice.\n'],
  [['--vary', 'lens.zMm=1:99:99', '--vary', 'face.sizeMm=1:99:99'], '--vary 9801 cells are too many; at most 4096.\n'],
  [['--vary', 'a=1', '--vary', 'b=1', '--vary', 'c=1'], '--vary stands 3 times; one or two numbers can be varied.\n'],
  [['--vary', ''], '--vary needs a value: --vary PATH=FROM:TO:COUNT.\n'],
  [[...GRID, '--csv', '-', '--json'], '--csv - and --json both want stdout; one of them can have it.\n'],
  [[...GRID, '--csv', 'no-such-folder/a.csv'], "no-such-folder/a.csv can't be written: there is no such folder.\n"],
  [[...GRID, '--csv', '.'], '. is a folder; expected the name of a file.\n'],
  [[...GRID, '--rays', '1e9'], '--rays: "1e9" does not fit; expected a whole number from 16 to 10,000,000.\n'],
])('%j is refused in one sentence', async (args, why) => {
  expect(await lampwright(['sweep', 'demo', ...args])).toMatchObject({ status: 2, out: '', err: why })
})

test('a bar on a terminal, cleared at the end; nothing on a pipe', async () => {
  const { err, out } = await lampwright(['sweep', 'stile-lamp', ...LINE, '--csv', '-'], { columns: 80 })
  expect(err).toMatch(/^\r.{1,3}\[=+ +\] {2}33 % {2}1 of 3 lamps\r.*100 % {2}3 of 3 lamps\r.{1,3}$/s)
  expect(readCsv(out)).toHaveLength(4)
})
