// check, new, help, and what is refused before any of them starts.
import { mkdirSync, readFileSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, test } from 'vitest'
import { COMMANDS } from '../../src/cli/help.ts'
import type { Sheet } from '../../src/job/beam/sheet.ts'
import { readLampText, writeLampText } from '../../src/lamp/read.ts'
import { benchCheck, gannetHead, stileLamp } from '../../src/library/demos.ts'
import { lampwright, scratch } from './kit.ts'

/** In air of 10 °C no touch of its plate burns within a second. */
function coolBench(): string {
  const path = join(scratch(), 'cool.lamp.json')
  const lamp = benchCheck()
  writeFileSync(path, writeLampText({ ...lamp, reading: { ...lamp.reading, ambientC: 10 } }))
  return path
}

describe('check', () => {
  test('prints findings, worst first, and exits 1 when one is severe', async () => {
    const { status, out, err } = await lampwright(['check', 'demo'], { dangers: () => [] })
    expect({ status, err }).toEqual({ status: 1, err: '' })
    const marks = [...out.matchAll(/^ {2}(SEVERE|Warning|Note) /gm)].map((m) => m[1])
    // Two severe ones of the sheet, three of heat and power: Turbo over its limit, metal that burns, optics over the face.
    expect(marks.map((m) => m![0]).join('')).toBe('SSSSSSWWWWWNNN')
    expect(out).toContain('“Turbo”: after')
  })

  test('exits 0 when none is', async () => {
    const mild = await lampwright(['check', coolBench()], {
      change: (s) => ({ ...s, findings: s.findings.filter((f) => f.severity !== 'severe') }),
      dangers: () => [],
    })
    expect(mild.status).toBe(0)
    const path = join(scratch(), 'bare.lamp.json')
    writeFileSync(path, writeLampText({ ...gannetHead(), boards: [] }))
    const none = await lampwright(['check', path], { change: (s) => ({ ...s, findings: [] }), dangers: () => [] })
    expect(none).toMatchObject({
      status: 0,
      out: 'Put boards on the face, the lamp gives no light.\n\nGannet Head\nRound face, ⌀ 200 mm\n  Nothing found.\n',
    })
  })

  test('--json is one object: version, lamp, findings', async () => {
    const { out, status } = await lampwright(['check', 'demo', '--json'])
    const reported = JSON.parse(out)
    expect(status).toBe(1)
    expect(Object.keys(reported)).toEqual(['version', 'lamp', 'findings'])
    expect(reported.findings[0]).toMatchObject({ rule: 'sun-inside', severity: 'severe', place: { kind: 'point' } })
  })

  test('knows what the danger sheet and the run of heat and power know: each alone makes it exit with 1', async () => {
    const calm = { change: (s: Sheet) => ({ ...s, findings: [] }) }
    const bench = await lampwright(['check', coolBench(), '--json'], { ...calm, dangers: () => [] })
    expect(bench.status).toBe(0)
    const burns = await lampwright(['check', coolBench(), '--json'], calm)
    expect(burns.status).toBe(1)
    expect(burns.out).toContain('"rule":"in-the-way"')
    const hot = await lampwright(['check', 'demo', '--json'], { ...calm, dangers: () => [] })
    expect(hot.status).toBe(1)
    for (const rule of ['junction-over-limit', 'optics-over-hot-face', 'touch-voltage', 'pack-fire', 'weight'])
      expect(hot.out).toContain(`"rule":"${rule}"`)
  })

  test('knows no --rays', async () => {
    expect((await lampwright(['check', 'demo', '--rays', '9'])).err).toBe('No option --rays.\n')
  })
})

describe('new', () => {
  test('writes an example that reads back, under its new name', async () => {
    const path = join(scratch(), 'quay')
    const { out, err, status } = await lampwright(['new', path, '--as', 'stile-lamp'], {
      change: (sheet) => ({ ...sheet, findings: [] }),
    })
    expect({ out, err, status }).toEqual({
      out: `Wrote ${path}.lamp.json, a copy of Stile lamp. Round face, ⌀ 60 mm.\n`,
      err: '',
      status: 0,
    })
    const read = readLampText(readFileSync(`${path}.lamp.json`, 'utf8'))
    expect(read).toEqual({ ok: true, lamp: { ...stileLamp(), name: 'quay' } })
  })

  test('a lamp with severe findings is written, never silently', async () => {
    const path = join(scratch(), 'quay')
    const { out, err, status } = await lampwright(['new', path])
    expect({ out, status }).toEqual({
      out: `Wrote ${path}.lamp.json, a copy of Gannet Head. Round face, ⌀ 200 mm.\n`,
      status: 0,
    })
    expect(err).toMatch(/^2 severe findings, the first: .+ All of them: lampwright check\.\n$/)
  })

  test('never overwrites a file without --force', async () => {
    const path = join(scratch(), 'quay.lamp.json')
    writeFileSync(path, 'mine')
    const refused = await lampwright(['new', path])
    expect(refused).toMatchObject({
      status: 2,
      out: '',
      err: `${path} is there already and stays as it is; --force writes over it.\n`,
    })
    expect(readFileSync(path, 'utf8')).toBe('mine')
    expect((await lampwright(['new', path, '--force'])).status).toBe(0)
    expect(readFileSync(path, 'utf8')).toBe(writeLampText({ ...gannetHead(), name: 'quay' }))
  })

  test.each([
    [['new'], 'new needs a name for the lamp.\n'],
    [['new', ''], 'new needs a name for the lamp.\n'],
    [['new', 'a', 'b'], 'new takes a name for the lamp and nothing after it, but found "b" as well.\n'],
    [['new', '.lamp.json'], 'new: ".lamp.json" does not fit; expected a name of 1 to 120 characters.\n'],
    [
      ['new', 'a', '--as', 'ice-ring'],
      'No example called ice-ring (did you mean ice-rink?); there is demo, gannet-head, stile-lamp, ice-rink, bench-check, wide-array, bin-lamp, slip-light.\n',
    ],
    [['new', 'a', '--as', 'toString'], /^No example called toString; there is/],
    [['new', 'no-such-folder/a'], "no-such-folder/a.lamp.json can't be written: there is no such folder.\n"],
  ])('%j is refused', async (args, why) => {
    const ran = await lampwright(args)
    expect(ran).toMatchObject({ status: 2, out: '' })
    expect(ran.err).toMatch(why)
  })
})

describe('files', () => {
  const traceWithProgress = (path: string) => lampwright(['trace', path])

  test('a lamp from a file is traced as it stands there, with or without a byte order mark', async () => {
    const path = join(scratch(), 'my.lamp.json')
    for (const mark of ['', '\uFEFF']) {
      writeFileSync(path, mark + writeLampText(stileLamp()))
      expect((await traceWithProgress(path)).asked?.lamp).toEqual(stileLamp())
    }
  })

  test('one fault: one sentence that names field, value and what was expected', async () => {
    const path = join(scratch(), 'bad.lamp.json')
    writeFileSync(path, writeLampText({ ...gannetHead(), optic: 'collimator-13' }))
    expect(await traceWithProgress(path)).toEqual({
      status: 2,
      out: '',
      err: `${path}: optic: no optic type called "collimator-13"; there is collimator-12, bare.\n`,
      asked: null,
    })
  })

  test('several faults: a line each', async () => {
    const path = join(scratch(), 'bad.lamp.json')
    const lamp = gannetHead()
    writeFileSync(path, JSON.stringify({ ...lamp, face: { ...lamp.face, sizeMm: 1e6, margin: 2 } }))
    expect((await traceWithProgress(path)).err).toBe(
      `${path} holds no lamp:\n` +
        '  face.sizeMm: 1000000 does not fit; expected at most 2000.\n' +
        '  face.margin: no such entry (did you mean marginMm?).\n',
    )
  })

  test('a fault steers no terminal', async () => {
    const path = join(scratch(), 'bad.lamp.json')
    writeFileSync(path, JSON.stringify({ ...gannetHead(), '\x1b[2J': 1 }))
    expect((await traceWithProgress(path)).err).toBe(`${path}: [2J: no such entry.\n`)
  })

  test.each([
    ['gannet-haed', 'No file or example called gannet-haed (did you mean the example gannet-head?).\n'],
    ['nowhere.lamp.json', 'No file or example called nowhere.lamp.json.\n'],
    ['constructor', 'No file or example called constructor.\n'],
    ['.', '. is a folder; expected a lamp file.\n'],
  ])('%s is refused', async (path, err) => {
    expect(await traceWithProgress(path)).toMatchObject({ status: 2, out: '', err })
  })

  test('what is no JSON, or no lamp, or far too large, is said to be so', async () => {
    const folder = scratch()
    const path = join(folder, 'x.json')
    writeFileSync(path, 'lamp: 1')
    expect((await traceWithProgress(path)).err).toMatch(/x\.json: The file is no JSON: .+\.\n$/)
    writeFileSync(path, '[]')
    expect((await traceWithProgress(path)).err).toMatch(
      /x\.json: The file holds no lamp: expected one JSON object\.\n$/,
    )
    writeFileSync(path, Buffer.alloc(64 * 1024 * 1024 + 1, ' '))
    expect((await traceWithProgress(path)).err).toMatch(/x\.json: too large for a lamp; expected at most 64 MiB\.\n$/)
    mkdirSync(join(folder, 'demo'))
    expect((await traceWithProgress(join(folder, 'demo'))).err).toMatch('is a folder')
  })
})

describe('the program itself', () => {
  test('--help, --version, and help for one command', async () => {
    const all = await lampwright(['--help'])
    expect(all).toMatchObject({ status: 0, err: '' })
    for (const word of ['trace', 'check', 'new', '--rays', '--seed', '--threads', '--json', '--force', 'wide-array'])
      expect(all.out).toContain(word)
    const one = await lampwright(['new', '--help'])
    expect(one.out).toContain('NAME.lamp.json')
    expect(one.out).not.toContain('--rays')
    expect((await lampwright(['--version'])).out).toMatch(/^lampwright \d+\.\d+\.\d+\n$/)
  })

  test.each([
    [['trase', 'demo'], `No command trase (did you mean trace?); there is ${COMMANDS.join(', ')} (see --help).\n`],
    [['--json', 'trace'], 'No option --json.\n'],
    [['--hlep'], 'No option --hlep (did you mean --help?).\n'],
    [['--help', 'trace'], `The command comes first: ${COMMANDS.join(', ')} (see --help).\n`],
    [['trace'], 'trace needs a lamp file or the name of an example.\n'],
    [
      ['check', 'demo', 'demo'],
      'check takes a lamp file or the name of an example and nothing after it, but found "demo" as well.\n',
    ],
  ])('%j is refused', async (args, err) => {
    expect(await lampwright(args)).toMatchObject({ status: 2, out: '', err })
  })

  test('without arguments: the help, on stderr', async () => {
    expect(await lampwright([])).toMatchObject({ status: 2, out: '' })
  })
})
