import { deflateSync, inflateSync } from 'node:zlib'
import { describe, expect, test } from 'vitest'
import { lampFromBytes } from '../../src/files/lampFile.ts'
import { lampFromPdf } from '../../src/files/lampInPdf.ts'
import { lampFromPng, withLampText } from '../../src/files/lampInPng.ts'
import { crc32, readPngChunks, writePng } from '../../src/files/png.ts'
import { writeLampText } from '../../src/lamp/read.ts'
import { benchCheck, stileLamp } from '../../src/library/demos.ts'
import { pixel } from '../kit/pixel.ts'

const bytesOf = (text: string) => new Uint8Array(Buffer.from(text, 'latin1'))

/** Published: the check value of CRC-32 (ISO-HDLC) is that of "123456789" (R. Williams, A Painless Guide to CRC, 1993; from memory). */
test('check sums are those of the standard', () => {
  expect(crc32(bytesOf('123456789'))).toBe(0xcbf43926)
  // The empty IEND chunk that ends every PNG file.
  expect([...pixel().slice(-12)]).toEqual([0, 0, 0, 0, 73, 69, 78, 68, 0xae, 0x42, 0x60, 0x82])
})

describe('a lamp in a picture', () => {
  const lamp = { ...benchCheck(), name: 'Łódź “灯”' }
  test('comes back as it was, and the picture is the same', async () => {
    const png = withLampText(pixel(), writeLampText(lamp))
    expect(await lampFromPng(png)).toEqual({ ok: true, lamp })
    expect(await lampFromBytes(png)).toEqual({ ok: true, lamp })
    const read = readPngChunks(png)
    if (!read.ok) throw new Error(read.why)
    expect(read.chunks.map((c) => c.type)).toEqual(['IHDR', 'IDAT', 'iTXt', 'IEND'])
    expect([...inflateSync(read.chunks[1]!.data)]).toEqual([0, 128])
    // Keyword, zero, flag, method, language, translated keyword: 11.3.3.4 of the specification.
    expect(Buffer.from(read.chunks[2]!.data.subarray(0, 9)).toString('latin1')).toBe('lamp\0\0\0\0\0')
  })
  test('the last lamp that is put in stands alone', async () => {
    const png = withLampText(withLampText(pixel(), writeLampText(stileLamp())), writeLampText(lamp))
    const read = readPngChunks(png)
    expect(read.ok && read.chunks.filter((c) => c.type === 'iTXt').length).toBe(1)
    expect(await lampFromPng(png)).toEqual({ ok: true, lamp })
  })
  const packed = (text: Uint8Array, flag = 1, method = 0) => {
    const read = readPngChunks(pixel())
    if (!read.ok) throw new Error(read.why)
    const data = Buffer.concat([bytesOf('lamp\0'), new Uint8Array([flag, method]), bytesOf('en\0Lampe\0'), text])
    return writePng(read.chunks.toSpliced(1, 0, { type: 'iTXt', data }))
  }
  test('another program may have compressed the text, and named its language', async () => {
    const text = Buffer.from(writeLampText(lamp), 'utf8')
    expect(await lampFromPng(packed(deflateSync(text)))).toEqual({ ok: true, lamp })
    expect(await lampFromPng(packed(text, 0))).toEqual({ ok: true, lamp })
  })
  test('a flood out of few bytes is refused, and so is what is no text', async () => {
    const flood = deflateSync(Buffer.alloc(70 * 1024 * 1024, 32))
    expect(flood.length).toBeLessThan(100_000)
    const damaged = { ok: false, why: ['The lamp in the picture is damaged.'] }
    expect(await lampFromPng(packed(flood))).toEqual(damaged)
    expect(await lampFromPng(packed(new Uint8Array([1, 2, 3])))).toEqual(damaged)
    expect(await lampFromPng(packed(new Uint8Array([0xff, 0xfe]), 0))).toEqual(damaged)
    expect(await lampFromPng(packed(new Uint8Array(2), 1, 7))).toEqual(damaged)
  })
  test('broken pictures are refused in words', async () => {
    const png = withLampText(pixel(), writeLampText(lamp))
    const wrong = png.slice()
    wrong[60]! ^= 1
    expect(await lampFromPng(wrong)).toMatchObject({
      ok: false,
      why: [expect.stringMatching(/check sum of its \w{4} chunk/)],
    })
    for (const cut of [9, 40, png.length - 1])
      expect(await lampFromPng(png.slice(0, cut))).toEqual({ ok: false, why: ['The picture is cut off.'] })
    expect(await lampFromPng(pixel())).toMatchObject({ ok: false, why: [expect.stringContaining('holds no lamp')] })
    expect(await lampFromPng(bytesOf('GIF89a'))).toMatchObject({ ok: false })
  })
  test('what is no sound picture is left as it is', () => {
    expect(withLampText(bytesOf('not one') as Uint8Array<ArrayBuffer>, '{}')).toEqual(bytesOf('not one'))
  })
})

describe('a lamp file by its contents', () => {
  test('a document, with a byte-order mark or without', async () => {
    const text = writeLampText(benchCheck())
    for (const bytes of [Buffer.from(text), Buffer.from(`\uFEFF${text}`)])
      expect(await lampFromBytes(bytes)).toEqual({ ok: true, lamp: benchCheck() })
  })
  test('broken PDFs are refused in words', async () => {
    expect(await lampFromPdf(bytesOf('%PDF-1.7\nno more'))).toMatchObject({ ok: false })
    expect(await lampFromPdf(bytesOf('{}'))).toEqual({ ok: false, why: ['It is no PDF.'] })
    const { PDFDocument } = await import('@cantoo/pdf-lib')
    const doc = await PDFDocument.create()
    doc.addPage()
    expect(await lampFromBytes(await doc.save())).toMatchObject({
      ok: false,
      why: [expect.stringContaining('holds no lamp')],
    })
    await doc.attach(bytesOf('{"format":"lamp"'), 'lamp.json')
    expect(await lampFromPdf(await doc.save())).toMatchObject({ ok: false, why: [expect.stringContaining('JSON')] })
  })
  test('a flood attached to a PDF is refused', async () => {
    const { PDFDocument } = await import('@cantoo/pdf-lib')
    const doc = await PDFDocument.create()
    doc.addPage()
    await doc.attach(new Uint8Array(70 * 1024 * 1024).fill(32), 'lamp.json')
    expect(await lampFromPdf(await doc.save())).toEqual({
      ok: false,
      why: ['What is attached to the PDF is too large for a lamp.'],
    })
  })
})
