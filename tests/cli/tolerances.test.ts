import { readFileSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { expect, test } from 'vitest'
import { readPart } from '../../src/job/part/part.ts'
import { gannetHead } from '../../src/library/demos.ts'
import { lampwright, scratch } from './kit.ts'

const RUN = ['tolerances', 'demo', '--lamps', '240', '--seed', '3']

test('text: figures with both ±, dangers by their upper end, shares, what to hold tighter', async () => {
  const { out, status, built } = await lampwright(RUN)
  expect(status).toBe(0)
  expect(built?.settings).toEqual({ lamps: 240, rays: 65_536, seed: 3 })
  // 18 rows of 13 lamps, and the drawn one.
  expect(out).toContain('235 lamps built within 11 tolerances, 65,536 rays each, seed 3')
  expect(out).toMatch(/Flux bin +± 7 % +uniform, ± is the end/)
  expect(out).toMatch(/drawn ± tracing +± building +5 % lie below +half +95 %/)
  expect(out).toMatch(/Axial intensity, cd +5,00\d,000 ± \d+,000 +± \d+,000/)
  expect(out).toMatch(/Dangers: the upper end decides.*\n.*at most +hottest lamp\n +Hot spot, in front, kW\/m²/)
  expect(out).toContain('79 of 235 lamps, the drawn one too: SEVERE, for instance: It burns.')
  expect(out).toMatch(/Hold tighter\n +Axial intensity: flux bin held to ± 3\.5 % takes ± of building from ± /)
  expect(out).toContain('Typical values where you have set none: common practice, no source.')
})

test('parts merged are the run in one go, byte for byte: file, text and JSON', async () => {
  const folder = scratch()
  const file = (name: string) => join(folder, name)
  const whole = await lampwright([...RUN, '--out', file('whole.json')])
  const json = await lampwright([...RUN, '--json'])
  for (const part of ['2/3', '1/3', '3/3']) {
    const ran = await lampwright([...RUN, '--part', part, '--out', file(`part-${part[0]}.json`)])
    expect(ran.out).toMatch(new RegExp(`^Wrote part ${part}, 7[89] of 235 lamps, to `))
    expect(ran.built?.indices.slice(0, 2)).toEqual([Number(part[0]) - 1, Number(part[0]) + 2])
  }
  const parts = ['part-3.json', 'part-1.json', 'part-2.json'].map(file)
  const merged = await lampwright(['merge', ...parts, '--out', file('merged.json')])
  expect(merged.err).toBe('')
  expect(readFileSync(file('merged.json'), 'utf8')).toBe(readFileSync(file('whole.json'), 'utf8'))
  expect(merged.out).toBe(whole.out)
  expect((await lampwright(['merge', ...parts, '--json'])).out).toBe(json.out)
})

test('a part that is there is not computed again; with --force it has the same bytes', async () => {
  const at = join(scratch(), 'p.json')
  const args = [...RUN, '--part', '2/9', '--out', at]
  await lampwright(args)
  const before = readFileSync(at, 'utf8')
  const again = await lampwright(args)
  expect([again.status, again.built, again.out]).toEqual([0, undefined, `${at} is part 2/9 already.\n`])
  await lampwright([...args, '--force'])
  expect(readFileSync(at, 'utf8')).toBe(before)
  // Another run is no part of this one.
  const other = await lampwright(['tolerances', 'demo', '--lamps', '240', '--part', '2/9', '--out', at])
  expect(other).toMatchObject({ status: 2, err: expect.stringContaining('is there already and stays as it is') })
})

test('merge refuses what does not go together, and names what is missing', async () => {
  const folder = scratch()
  const made = async (name: string, ...args: string[]) => {
    const at = join(folder, name)
    await lampwright([...args, '--out', at])
    return at
  }
  const one = await made('1.json', ...RUN, '--part', '1/3')
  const other = await made('o.json', 'tolerances', 'demo', '--lamps', '240', '--part', '2/3')
  const err = async (...args: string[]) => (await lampwright(['merge', ...args])).err
  expect(await err(one)).toBe('2 parts are missing: 2/3, 3/3.\n')
  expect(await err(one, other)).toContain('is of another run than')
  expect(await err(one, other)).toContain('seed differs')
  expect(await err(join(folder, 'none.json'))).toContain('No file called')
  const cut = join(folder, 'cut.json')
  writeFileSync(cut, readFileSync(one, 'utf8').slice(0, 1000))
  expect(await err(one, cut)).toContain('this is no JSON, or not all of it')
  expect(await err()).toBe('merge needs the files of all parts.\n')
})

test('--list has every tolerance by the name of its entry; --part asks for a file', async () => {
  const { out } = await lampwright(['tolerances', 'stile-lamp', '--list'])
  expect(out).toMatch(/Lens distance +± 2 mm +normal, ± is 2 σ +none in this lamp +lensDistanceMm/)
  expect(out).toMatch(/Width of the collimators +± 10 % +normal, ± is 2 σ +fwhmShare/)
  expect((await lampwright([...RUN, '--part', '1/2'])).err).toContain('--part needs --out FILE')
  expect((await lampwright([...RUN, '--part', '3/2', '--out', 'x'])).err).toContain('expected I/N')
  expect((await lampwright(['tolerances', 'demo', '--lamps', '50'])).err).toContain('from 105 to 100,000')
})

test('parts of a sweep merge to its table', async () => {
  const folder = scratch()
  const sweep = ['sweep', 'demo', '--vary', 'lens.zMm=1000:1100:7']
  const parts = []
  for (const part of ['1/2', '2/2']) {
    parts.push(join(folder, `${part[0]}.json`))
    await lampwright([...sweep, '--part', part, '--out', join(folder, `${part[0]}.json`)])
  }
  const csv = join(folder, 'merged.csv')
  await lampwright(['merge', ...parts, '--csv', csv, '--out', join(folder, 'merged.json')])
  expect(readFileSync(csv, 'utf8')).toBe((await lampwright([...sweep, '--csv', '-'])).out)
  await lampwright([...sweep, '--out', join(folder, 'whole.json')])
  const text = readFileSync(join(folder, 'merged.json'), 'utf8')
  expect(text).toBe(readFileSync(join(folder, 'whole.json'), 'utf8'))
  const read = readPart(text)
  expect(read.ok && read.part.lamp).toEqual(gannetHead())
  const both = await lampwright(['merge', ...parts])
  expect(both.out).toContain('7 lamps of 65,536 rays each, seed 1; ± is at 95 %')
})
