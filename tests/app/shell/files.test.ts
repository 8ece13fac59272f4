import { PDFDocument } from '@cantoo/pdf-lib'
import { expect, test, vi } from 'vitest'
import { fileName, openLamp } from '../../../src/app/shell/files.ts'
import { whenText } from '../../../src/app/shell/whenText.ts'
import { units } from '../../../src/app/store/unitSystem.ts'
import { withLampText } from '../../../src/files/lampInPng.ts'
import { writePng } from '../../../src/files/png.ts'
import { writeLampText } from '../../../src/lamp/read.ts'
import { gannetHead } from '../../../src/library/demos.ts'

const bytes = (text: string) => new TextEncoder().encode(text)
const file = (text: string, size = text.length) => ({ size, arrayBuffer: async () => bytes(text).buffer })
const callbacks = () => ({ onLamp: vi.fn(), onRefused: vi.fn() })

test('a saved lamp opens as it was', async () => {
  const e = callbacks()
  await openLamp(file(writeLampText(gannetHead())), e)
  expect(e.onLamp).toHaveBeenCalledWith(gannetHead())
  expect(e.onRefused).not.toHaveBeenCalled()
})

test('a book and a saved picture open as the lamp that they hold', async () => {
  const lamp = gannetHead()
  const doc = await PDFDocument.create()
  doc.addPage()
  await doc.attach(bytes(writeLampText(lamp)), 'lamp.json')
  const end = { type: 'IEND', data: new Uint8Array(0) }
  for (const file of [await doc.save(), withLampText(writePng([end]), writeLampText(lamp))]) {
    const e = callbacks()
    await openLamp({ size: file.length, arrayBuffer: async () => new Uint8Array(file).buffer }, e)
    expect(e.onLamp).toHaveBeenCalledWith(lamp)
  }
  const e = callbacks()
  const picture = writePng([end])
  await openLamp({ size: picture.length, arrayBuffer: async () => picture.buffer }, e)
  expect(e.onRefused).toHaveBeenCalledWith(['The picture holds no lamp: only pictures that this program saves do.'])
})

test('a file that does not fit names field, value and what was expected', async () => {
  const e = callbacks()
  const lamp = gannetHead()
  await openLamp(file(JSON.stringify({ ...lamp, face: { ...lamp.face, sizeMm: -5 } })), e)
  expect(e.onLamp).not.toHaveBeenCalled()
  expect(e.onRefused).toHaveBeenCalledWith(['face.sizeMm: -5 does not fit; expected at least 1.'])
})

test('lengths that are wrong stand in inches where the builder has chosen them', async () => {
  const e = callbacks()
  const lamp = gannetHead()
  if (!lamp.lens) throw new Error('the demo has a lens')
  const near = file(JSON.stringify({ ...lamp, lens: { ...lamp.lens, zMm: 1 } }))
  await openLamp(near, e)
  units.setState({ system: 'inch' })
  await openLamp(near, e)
  units.setState({ system: 'metric' })
  const [[metric], [inch]] = e.onRefused.mock.calls.map(([why]) => why)
  expect(metric).toBe('lens.zMm: the lens reaches back to 1 mm, into the tunnel that ends at 1040 mm.')
  // 25.4 mm to the inch (international yard and pound agreement, 1959).
  expect(inch).toBe('lens.zMm: the lens reaches back to 0.039 in, into the tunnel that ends at 40.945 in.')
})

test('no JSON, too large, unreadable: each in words', async () => {
  const e = callbacks()
  await openLamp(file('{oops'), e)
  expect(e.onRefused.mock.calls[0]![0][0]).toMatch(/^The file is no JSON/)
  await openLamp(file('', 3e7), e)
  expect(e.onRefused.mock.calls[1]![0]).toEqual(['The file holds 30 MB; a lamp file is never over 20 MB.'])
  await openLamp({ size: 1, arrayBuffer: () => Promise.reject(new Error('gone')) }, e)
  expect(e.onRefused.mock.calls[2]![0]).toEqual(['The file could not be read from the disk.'])
})

test('file names are plain', () => {
  expect(fileName('Gannet Head')).toBe('gannet-head.lamp.json')
  expect(fileName('Küstenwache: 2 / neu')).toBe('kustenwache-2-neu.lamp.json')
  expect(fileName('灯')).toBe('lamp.lamp.json')
})

test('moments as a builder says them', () => {
  const now = new Date(2024, 4, 17, 14, 30).getTime()
  expect(whenText(now - 20_000, now)).toBe('just now')
  expect(whenText(now - 12 * 60_000, now)).toBe('12 min ago')
  expect(whenText(now - 3 * 3_600_000, now)).toBe('today 11:30')
  expect(whenText(new Date(2024, 4, 3, 9, 5).getTime(), now)).toBe('3 May 09:05')
})
