// lampwright draw.
import { existsSync, readFileSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, test } from 'vitest'
import { readDxf } from '../kit/readDxf.ts'
import { lampwright, scratch } from './kit.ts'

describe('draw', () => {
  test('--list: sheets with sizes, and reasons', async () => {
    const { status, out } = await lampwright(['draw', 'gannet-head', '--list'])
    expect(status).toBe(0)
    expect(out).toMatch(/^ {2}face +200\.0 × 200\.0 mm +Face plate$/m)
    expect(out).toMatch(/Not drawn\n[\s\S]*tunnel: The blank is/)
  })

  test.each([
    ['dxf', /^0\n?\r?\nSECTION|SECTION/],
    ['svg', /^<\?xml/],
    ['pdf', /^%PDF-/],
  ])('writes %s to a file, and over it only when asked', async (format, start) => {
    const path = join(scratch(), `face.${format}`)
    const args = ['draw', 'ice-rink', '--sheet', 'face', '--format', format, '--out', path]
    const first = await lampwright(args)
    expect(first).toMatchObject({ status: 0, err: '' })
    expect(first.out).toContain('Face plate, at true size.')
    const bytes = readFileSync(path)
    expect(bytes.toString('latin1').slice(0, 200)).toMatch(start)
    writeFileSync(path, 'mine')
    const again = await lampwright(args)
    expect(again.status).toBe(2)
    expect(again.err).toContain('--force writes over it')
    expect(readFileSync(path, 'utf8')).toBe('mine')
    expect((await lampwright([...args, '--force'])).status).toBe(0)
    expect(readFileSync(path).subarray(0, 4)).toEqual(bytes.subarray(0, 4))
  })

  test('--out -: text to stdout, no PDF', async () => {
    const { out } = await lampwright(['draw', 'ice-rink', '--sheet', 'face', '--format', 'dxf', '--out', '-'])
    expect(readDxf(out).insunits).toBe(4)
    const pdf = await lampwright(['draw', 'ice-rink', '--sheet', 'face', '--out', '-'])
    expect(pdf).toMatchObject({ status: 2, out: '' })
  })

  test.each([
    [['draw', 'ice-rink'], /needs --sheet NAME; there is face, /],
    [['draw', 'ice-rink', '--sheet', 'fase'], /No sheet fase \(did you mean face\?\)/],
    [
      ['draw', 'gannet-head', '--sheet', 'tunnel', '--out', 'never.pdf'],
      /tunnel can’t be drawn: The blank is .* mm\. However it is turned/,
    ],
    [
      ['draw', 'ice-rink', '--sheet', 'face', '--format', 'dwg'],
      /--format: "dwg" does not fit; expected dxf, svg, pdf/,
    ],
    [['draw', 'ice-rink', '--sheet', 'face', '--paper', 'A3'], /--paper: "A3" does not fit; expected A4, Letter/],
  ])('%j is refused', async (args, why) => {
    const { status, err, out } = await lampwright(args)
    expect(status).toBe(2)
    expect(err).toMatch(why)
    expect(out).toBe('')
    expect(existsSync('never.pdf')).toBe(false)
  })

  test('--paper letter is taken', async () => {
    const path = join(scratch(), 'face.pdf')
    await lampwright(['draw', 'ice-rink', '--sheet', 'board-three', '--paper', 'letter', '--out', path])
    expect(readFileSync(path).length).toBeGreaterThan(1000)
  })
})
