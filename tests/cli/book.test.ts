import { readFileSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, test } from 'vitest'
import { lampFromPdf } from '../../src/files/lampInPdf.ts'
import { withLampText } from '../../src/files/lampInPng.ts'
import { writePng } from '../../src/files/png.ts'
import { writeLampText } from '../../src/lamp/read.ts'
import { benchCheck } from '../../src/library/demos.ts'
import { CHAPTER_IDS } from '../../src/report/book/model.ts'
import { traceHere } from '../kit/traceHere.ts'
import { lampwright, scratch } from './kit.ts'

describe('lampwright book', () => {
  test('writes a PDF with the lamp in it, which stands wherever a lamp file does and traces the same numbers', async () => {
    const out = join(scratch(), 'bench.pdf')
    const ran = await lampwright(['book', 'bench-check', '--out', out, '--rays', '4096', '--seed', '7'])
    expect(ran.status).toBe(0)
    expect(ran.out).toBe(
      `Wrote ${out}, the book of Bench check. Only the page draws the night: this book has no picture of it.\n`,
    )
    expect(ran.err).toMatch(/severe findings, the first: .* All of them: on its first page\.\n$/)
    expect(ran.asked?.options).toMatchObject({ maxRays: 4096, seed: 7, variants: true, precision: 0 })
    const back = await lampFromPdf(readFileSync(out))
    expect(back).toEqual({ ok: true, lamp: benchCheck() })
    const again = await lampwright(['trace', out, '--rays', '4096', '--seed', '7'])
    expect(again.asked?.lamp).toEqual(benchCheck())
    if (!back.ok) return
    const [first, second] = [benchCheck(), back.lamp].map((lamp) => traceHere(lamp, { rays: 1 << 14, seed: 7 }))
    expect(first?.rays).toBe(1 << 14)
    expect(second).toEqual(first)
  })
  test('never writes over a file unless told', async () => {
    const out = join(scratch(), 'there.html')
    writeFileSync(out, 'mine')
    const ran = await lampwright(['book', 'bench-check', '--out', out])
    expect(ran).toMatchObject({
      status: 2,
      err: `${out} is there already and stays as it is; --force writes over it.\n`,
    })
    expect(ran.asked).toBeNull()
    expect((await lampwright(['book', 'bench-check', '--out', out, '--force', '--quick'])).status).toBe(0)
    const html = readFileSync(out, 'utf8')
    expect(html).toMatch(/^<!doctype html>/)
    expect(html).toContain('Made with --quick, from few rays')
  })
  test('chapters by name; what is no chapter is refused with the nearest', async () => {
    const listed = await lampwright(['book', '--chapters'])
    expect(listed.out.match(/^\S+/gm)).toEqual([...CHAPTER_IDS])
    const out = join(scratch(), 'a.html')
    const refused = await lampwright(['book', 'bench-check', '--out', out, '--without', 'beam,dangr'])
    expect(refused).toMatchObject({ status: 2 })
    expect(refused.err).toMatch(/^--without: no chapter dangr.*danger/)
    await lampwright(['book', 'bench-check', '--out', out, '--without', 'beam, danger'])
    const html = readFileSync(out, 'utf8')
    expect(html).not.toContain('id="danger"')
    expect(html).toContain('id="wiring"')
    expect(html).toContain('Left out of this book on request: beam sheet, danger.')
  })
  test('only a PDF or a page: other endings are refused before any work', async () => {
    const ran = await lampwright(['book', 'bench-check', '--out', 'lamp.docx'])
    expect(ran.err).toBe('--out: "lamp.docx" does not fit; expected a name that ends in .pdf or .html.\n')
    expect(ran.asked).toBeNull()
  })
  test('a picture that the page saved stands for its lamp; another is refused', async () => {
    const folder = scratch()
    const png = writePng([{ type: 'IEND', data: new Uint8Array(0) }])
    writeFileSync(join(folder, 'a.png'), withLampText(png, writeLampText(benchCheck())))
    expect((await lampwright(['trace', join(folder, 'a.png')])).asked?.lamp).toEqual(benchCheck())
    writeFileSync(join(folder, 'b.png'), png)
    expect((await lampwright(['trace', join(folder, 'b.png')])).err).toContain('b.png: The picture holds no lamp')
  })
})
