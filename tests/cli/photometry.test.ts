// lampwright photometry: the file, the flags, and what is refused. No ray is traced: sheet and exit rays are invented.
import { existsSync, readdirSync, readFileSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { expect, test } from 'vitest'
import { readLm63 } from '../../src/files/lm63.ts'
import { readRayFile } from '../../src/files/tm25Read.ts'
import type { Sheet } from '../../src/job/beam/sheet.ts'
import { expectWithin } from '../kit/expect.ts'
import { readPlainly, zonalLumens } from '../kit/photometryReader.ts'
import { lampwright, scratch } from './kit.ts'

/** A Lambertian beam of 1000 lm in place of the invented one, whose maps are of no one lamp. */
function lambertian(sheet: Sheet): Sheet {
  const peak = 1000 / Math.PI
  const thetaDeg = Float32Array.from({ length: 181 }, (_, i) => i)
  const cd = thetaDeg.map((t) => peak * Math.max(0, Math.cos((t * Math.PI) / 180)))
  const n = 64
  const values = Float32Array.from({ length: n * n }, (_, i) => {
    const [x, y] = [(i % n) + 0.5 - n / 2, Math.floor(i / n) + 0.5 - n / 2]
    return peak * Math.max(0, Math.cos((Math.hypot(x, y) * 160 * Math.PI) / n / 180))
  })
  const figure = (value: number) => ({ value, se: value / 1000 })
  return {
    ...sheet,
    profile: { thetaDeg, cd, seCd: cd.map((v) => v / 100), byDirection: [] },
    directionMap: { ...sheet.directionMap, columns: n, rows: n, fromX: -80, toX: 80, fromY: -80, toY: 80, values },
    figures: {
      emittedLm: figure(1100),
      fluxOutLm: figure(1000),
      axialIntensityCd: figure(peak),
      peakIntensityCd: figure(peak),
      beamAngleDeg: figure(120),
    },
  }
}

test('LM-63 to stdout, edition of 2019, with the power that the emitters take', async () => {
  const ran = await lampwright(['photometry', 'stile-lamp', '--format', 'lm63', '--rays', '1e6', '--seed', '3'], {
    change: lambertian,
  })
  expect(ran).toMatchObject({ status: 0, err: '' })
  expect(ran.asked?.options).toMatchObject({ maxRays: 1e6, seed: 3, precision: 0 })
  const read = readLm63(ran.out)
  if (!read.ok) throw new Error(read.why)
  expect(read.photometry.edition).toBe(2019)
  expect(read.photometry.inputW).toBeGreaterThan(1)
  expect(read.photometry.keywords.find(({ name }) => name === 'LUMINAIRE')?.text).toBe('Stile lamp')
  expectWithin(zonalLumens(readPlainly(ran.out)), 1000, { rel: 0.005, because: 'the promised half per cent' })
})

test('into a file, which is not written over without --force', async () => {
  const out = join(scratch(), 'a.ies')
  const args = ['photometry', 'stile-lamp', '--format', 'lm63', '--edition', '2002', '--out', out]
  const first = await lampwright(args, { change: lambertian })
  expect(first.status).toBe(0)
  expect(first.out.replace(/\s+/g, ' ')).toMatch(
    /LM-63-2002, \d+ vertical angles, one plane, round, 1,000 lm .* nothing was measured\. $/,
  )
  expect(readFileSync(out, 'latin1').startsWith('IESNA:LM-63-2002\r\n')).toBe(true)
  const again = await lampwright(args, { change: lambertian })
  expect([again.status, again.asked]).toEqual([2, null])
  expect(again.err).toMatch(/is there already and stays as it is; --force writes over it/)
  expect((await lampwright([...args, '--force'], { change: lambertian })).status).toBe(0)
})

test('a sheet that no table can tell is refused, and no file is left', async () => {
  const folder = scratch()
  const args = ['photometry', 'demo', '--format', 'lm63', '--out', join(folder, 'a.ies')]
  const ran = await lampwright(args, { change: (sheet) => ({ ...lambertian(sheet), figures: {} }) })
  expect(ran).toMatchObject({ status: 2, err: 'No light leaves the lamp: there is nothing to write.\n' })
  expect(readdirSync(folder)).toEqual([])
})

test('TM-25 into a file: the rays that left, worth the watts over the rays that were started', async () => {
  const out = join(scratch(), 'a.tm25ray')
  const ran = await lampwright([
    'photometry',
    'demo',
    '--format',
    'tm25',
    '--rays',
    '10000',
    '--seed',
    '5',
    '--out',
    out,
  ])
  expect(ran).toMatchObject({ status: 0, err: '' })
  expect(ran.exits?.options).toMatchObject({ rays: 10_000, seed: 5 })
  expect(ran.out.replace(/\s+/g, ' ')).toContain('TM-25 (2013), 3 rays of 10,000 that were started, 0.375 lm')
  const rows: number[] = []
  const read = await readRayFile([readFileSync(out)], { onHead: () => null, onRays: (r) => rows.push(...r) })
  if (!read.ok) throw new Error(read.why)
  expect([read.notes, read.head.texts.name, read.head.rays]).toEqual([[], 'Gannet Head', 3])
  // 0.5 of a ray of 10 W / 10,000.
  expectWithin(rows[6]!, 0.0005, { rel: 1e-6, because: 'single precision' })
  expectWithin(rows[8]!, 0.15, { rel: 1e-6, because: 'single precision' })
})

test('a ray file is not written over without --force, nor to a place that is no file', async () => {
  const folder = scratch()
  const out = join(folder, 'a.tm25ray')
  writeFileSync(out, 'mine')
  const args = ['photometry', 'demo', '--format', 'tm25', '--out']
  const refused = await lampwright([...args, out])
  expect([refused.status, refused.exits]).toEqual([2, undefined])
  expect(readFileSync(out, 'utf8')).toBe('mine')
  expect((await lampwright([...args, out, '--force'])).status).toBe(0)
  expect(readFileSync(out).subarray(0, 4).toString()).toBe('TM25')
  expect((await lampwright([...args, folder])).err).toMatch(/is a folder/)
  expect((await lampwright([...args, join(folder, 'none', 'a')])).err).toMatch(/no such folder/)
  expect(readdirSync(folder)).toEqual(['a.tm25ray'])
  expect(existsSync(join(folder, 'none'))).toBe(false)
})

test.each([
  [[], /needs a format: --format lm63 or --format tm25/],
  [['--format', 'ies'], /--format: "ies" does not fit; expected lm63 or tm25/],
  [['--format', 'lm63', '--edition', '1995'], /--edition: "1995" does not fit; expected 2002 or 2019/],
  [['--format', 'tm25'], /goes into a file: --out PATH/],
  [['--format', 'tm25', '--edition', '2019', '--out', 'x'], /--edition is for --format lm63/],
  [['--format', 'lm63', '--rays', '3'], /--rays: "3" does not fit/],
])('refused: %j', async (args, why) => {
  const ran = await lampwright(['photometry', 'demo', ...args])
  expect([ran.status, ran.asked, ran.exits]).toEqual([2, null, undefined])
  expect(ran.err).toMatch(why)
})
