// lampwright solid: files of parts, and refusals in words.
import { existsSync, readdirSync, readFileSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, test } from 'vitest'
import { stlReport } from '../kit/stlCheck.ts'
import { lampwright, scratch } from './kit.ts'

test('--list has every part, those that can’t be made with the reason, and the printer', async () => {
  const { status, out, err } = await lampwright(['solid', 'stile-lamp', '--list'])
  expect({ status, err }).toEqual({ status: 0, err: '' })
  expect(out).toMatch(/^Stile lamp: parts as solids\n {2}assembly {9}The whole lamp, its parts by name\n/)
  expect(out).toContain('Not made\n  tunnel: The lamp has no tunnel.\n')
  expect(out).toContain('Printed on a bed of 220 × 220 mm, 220 mm high, with walls of 2.4 mm and 0.25 mm of clearance.')
})

test('--units inch: the printer and the reasons in inches', async () => {
  const { out } = await lampwright(['solid', 'demo', '--list', '--units', 'inch'])
  expect(out).toContain('Printed on a bed of 8.66 × 8.66 in, 8.66 in high')
  expect(out).toMatch(/would\s+be 0\.087 in high with walls of 0\.094 in/)
})

test('GLB of the assembly unless told otherwise', async () => {
  const out = join(scratch(), 'lamp.glb')
  const ran = await lampwright(['solid', 'slip-light', '--part', 'assembly', '--out', out])
  expect(ran).toMatchObject({ status: 0, out: `Wrote ${out}: 65 parts by name, metres, +Y up.\n` })
  expect(readFileSync(out).subarray(0, 4).toString()).toBe('glTF')
})

test('STL of what is printed: a file for each kind of piece, with how many are wanted', async () => {
  const folder = scratch()
  const args = ['solid', 'slip-light', '--part', 'print-lens-ring', '--out', join(folder, 'ring.stl')]
  const ran = await lampwright(args)
  expect(ran.status).toBe(0)
  const files = readdirSync(folder).sort()
  expect(files).toContain('ring-lens-ring-lip-piece-1-2x.stl')
  expect(files).toHaveLength(10)
  expect(ran.out).toContain(
    `Wrote ${join(folder, files[0]!)}: lens ring, lip, piece 1, wanted 2 times, 34.4 g when filled, mm.`,
  )
  expect(ran.out).toContain('Printed plastic softens near heat')
  for (const file of files) expect(stlReport(readFileSync(join(folder, file))).openEdges, file).toBe(0)
})

test('what is there stays, unless told; and then nothing is written beside it', async () => {
  const folder = scratch()
  const there = join(folder, 'ring-lens-ring-seat-piece-1-2x.stl')
  writeFileSync(there, 'mine')
  const args = ['solid', 'slip-light', '--part', 'print-lens-ring', '--out', join(folder, 'ring.stl')]
  expect(await lampwright(args)).toMatchObject({
    status: 2,
    err: `${there} is there already and stays as it is; --force writes over it.\n`,
  })
  expect(readdirSync(folder)).toEqual(['ring-lens-ring-seat-piece-1-2x.stl'])
  expect((await lampwright([...args, '--force'])).status).toBe(0)
  expect(readFileSync(there).length).toBeGreaterThan(84)
})

describe('refused in words, and nothing written', () => {
  test.each([
    [[], /^solid needs --part NAME; there is assembly, face, /],
    [['--part', 'asembly'], /^No part asembly \(did you mean assembly\?\); there is /],
    [['--part', 'face', '--format', 'obj'], /^--format: "obj" does not fit; expected glb or stl\.\n$/],
    [['--part', 'tunnel'], /^tunnel can’t be made: The lamp has no tunnel\.\n$/],
  ])('%j', async (args, why) => {
    const out = join(scratch(), 'none.stl')
    const ran = await lampwright(['solid', 'stile-lamp', ...args, '--out', out])
    expect(ran.status).toBe(2)
    expect(ran.err).toMatch(why)
    expect(existsSync(out)).toBe(false)
  })
})
