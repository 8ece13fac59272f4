// lampwright source: a ray file into a lamp file, in words, and what is refused.
import { existsSync, readFileSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { expect, test } from 'vitest'
import { readLampText } from '../../src/lamp/read.ts'
import { lambertianRays, rayFileBytes } from '../kit/rayFile.ts'
import { lampwright, scratch } from './kit.ts'

function fileIn(
  folder: string,
  bytes = rayFileBytes(lambertianRays(3000, 2).map((r) => ({ ...r, watts: 0.002 }))),
): string {
  const path = join(folder, 'die.tm25ray')
  writeFileSync(path, bytes)
  return path
}

const emitterIn = (path: string) => {
  const read = readLampText(readFileSync(path, 'utf8'))
  if (!read.ok) throw new Error(read.why.join(' '))
  return read.lamp.emitterTypes[0]!
}

test('in words alone, then into a file with its lumens, and out again', async () => {
  const folder = scratch()
  const rays = fileIn(folder)
  const to = join(folder, 'a.lamp.json')
  const shown = await lampwright(['source', 'bench-check', '--rays', rays])
  expect(shown).toMatchObject({ status: 0, err: '' })
  expect(shown.out).toContain('as the light of “5 mm, one die”:')
  expect(shown.out).toMatch(
    /Rays in the file +3,000\n {2}Rays in the lamp +all of them\n {2}Flux in the file +4,100 lm, 6 W/,
  )
  expect(existsSync(to)).toBe(false)
  expect((await lampwright(['source', 'bench-check', '--rays', rays, '--flux', '--to', to])).out).toContain(
    `Wrote ${to}.`,
  )
  const emitter = emitterIn(to)
  expect(emitter.rays).toMatchObject({ fileName: 'die.tm25ray', fileRays: 3000 })
  expect(emitter.fluxLm).toBeCloseTo(6 * 683.002, 0)
  const without = join(folder, 'b.lamp.json')
  expect((await lampwright(['source', to, '--without', '--to', without])).status).toBe(0)
  expect(emitterIn(without)).toEqual({ ...emitter, rays: undefined })
})

test.each([
  [['--rays', 'nowhere.tm25ray'], 'No file called nowhere.tm25ray.'],
  [['--rays', '.'], '. is a folder; expected a ray file.'],
  [[], 'source needs one of --rays FILE and --without.'],
  [['--without'], 'A changed lamp goes into a file: --to FILE.'],
  [['--without', '--to', 'x.lamp.json'], '--without: “5 mm, one die” has no rays.'],
  [['--rays', 'package.json'], 'package.json: No ray file of TM-25: it does not begin with the letters TM25.'],
  [['--rays', 'x', '--emitter', 'nope'], '--emitter: no emitter type "nope"'],
])('refused: %j', async (args, why) => {
  const ran = await lampwright(['source', 'bench-check', ...args])
  expect(ran.status).toBe(2)
  expect(ran.err).toContain(why)
})

test('a damaged file, and lumens that are not there', async () => {
  const folder = scratch()
  const damaged = fileIn(folder, rayFileBytes(lambertianRays(9, 1)).slice(0, -5))
  expect((await lampwright(['source', 'bench-check', '--rays', damaged])).err).toMatch(/breaks off: it promises 9 rays/)
  const dark = fileIn(folder, rayFileBytes([{}], { watts: true }))
  expect((await lampwright(['source', 'bench-check', '--rays', dark, '--flux'])).err).toBe(
    '--flux: It does not say how many lumens it has.\n',
  )
})
