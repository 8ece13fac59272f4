import { expect, test } from 'vitest'
import { logExposure, readExposure } from '../../../src/readings/photo/exif.ts'
import { homographyFrom, isConvex, mapped, type Point } from '../../../src/readings/photo/homography.ts'
import { byteDoubt, linearFromSrgb, MASK, makeBinner, srgbFromLinear } from '../../../src/readings/photo/pixels.ts'

test('the transfer curve of sRGB (IEC 61966-2-1:1999, 5.2)', () => {
  // By hand: ((0.5 + 0.055)/1.055)^2.4 = e^(2.4 · ln 0.526066) = 0.214041; 0.04/12.92 = 0.00309598; white is white.
  expect(linearFromSrgb(0.5)).toBeCloseTo(0.214041, 6)
  expect(linearFromSrgb(0.04)).toBeCloseTo(0.00309598, 8)
  expect(linearFromSrgb(1)).toBeCloseTo(1, 12)
  for (const c of [0.01, 0.04, 0.3, 0.9]) expect(srgbFromLinear(linearFromSrgb(c))).toBeCloseTo(c, 4)
  // One byte more or less, on either branch.
  for (const byte of [5, 60, 200]) {
    const step = (linearFromSrgb((byte + 0.5) / 255) - linearFromSrgb((byte - 0.5) / 255)) / linearFromSrgb(byte / 255)
    expect(byteDoubt(linearFromSrgb(byte / 255))).toBeCloseTo(step, 3)
  }
})

test('luminance by Rec. ITU-R BT.709; burnt-out and black pixels are masked and counted', () => {
  const binner = makeBinner(5, 2)
  const px = (r: number, g: number, b: number) => [r, g, b, 255]
  binner.add(
    new Uint8ClampedArray([px(100, 0, 0), px(0, 100, 0), px(0, 0, 100), px(128, 128, 128), px(249, 9, 9)].flat()),
  )
  binner.add(new Uint8ClampedArray([px(250, 3, 3), px(5, 5, 5), px(6, 0, 0), px(0, 0, 255), px(0, 0, 0)].flat()))
  const { luminance, mask, saturated, black, pixels } = binner.finish()
  // 100/255 by the curve: ((0.392157 + 0.055)/1.055)^2.4 = 0.127438.
  const [red = 0, green = 0, blue = 0, grey = 0] = luminance
  expect(red / 0.127438).toBeCloseTo(0.2126, 4)
  expect(green / 0.127438).toBeCloseTo(0.7152, 4)
  expect(blue / 0.127438).toBeCloseTo(0.0722, 4)
  expect(grey).toBeCloseTo(0.215861, 5)
  expect([...mask]).toEqual([0, 0, 0, 0, 0, MASK.saturated, MASK.black, 0, MASK.saturated, MASK.black])
  expect({ saturated, black, pixels }).toEqual({ saturated: 2, black: 2, pixels: 10 })
})

test('neighbours are averaged in light, and one burnt-out pixel masks their place', () => {
  const [width, height] = [2000, 1200]
  const binner = makeBinner(width, height)
  const row = (at: number) => {
    const bytes = new Uint8ClampedArray(4 * width).fill(at % 2 === 0 ? 0 : 200)
    if (at === 0) bytes.fill(255, 0, 4)
    return bytes
  }
  for (let y = 0; y < height; y++) binner.add(row(y))
  const { columns, rows, binPx, luminance, mask } = binner.finish()
  expect({ columns, rows, binPx }).toEqual({ columns: 1000, rows: 600, binPx: 2 })
  expect(mask[0]).toBe(MASK.saturated)
  expect(mask[2]).toBe(MASK.black)
  // Half of the light of 200/255, not that of 100/255.
  expect(luminance[2]).toBeCloseTo(linearFromSrgb(200 / 255) / 2, 6)
})

const SQUARE: Point[] = [
  [0, 0],
  [1, 0],
  [1, 1],
  [0, 1],
]

test('perspective by hand', () => {
  // (x, y) → (x, y)/(1 + x): the corners go to (0, 0), (½, 0), (½, ½), (0, 1). The diagonals of these, y = x and y = 1 − 2x, cross at (⅓, ⅓), and the
  // middle of the square lies on both.
  const seen: Point[] = [
    [0, 0],
    [0.5, 0],
    [0.5, 0.5],
    [0, 1],
  ]
  const h = homographyFrom(SQUARE, seen)
  if (!h) throw new Error('there is one')
  for (const [i, corner] of SQUARE.entries()) {
    const [x, y] = mapped(h, corner)
    expect(x).toBeCloseTo(seen[i]?.[0] ?? 9, 10)
    expect(y).toBeCloseTo(seen[i]?.[1] ?? 9, 10)
  }
  const [x, y] = mapped(h, [0.5, 0.5])
  expect(x).toBeCloseTo(1 / 3, 10)
  expect(y).toBeCloseTo(1 / 3, 10)
  const scale = 1 / (h[0] ?? 0)
  expect(h.map((value) => value * scale)).toEqual([1, 0, 0, 0, 1, 0, 1, 0, 1].map((v) => expect.closeTo(v, 9)))
})

test('marks that make no rectangle', () => {
  const inLine: Point[] = [
    [0, 0],
    [0.5, 0.5],
    [1, 1],
    [0, 1],
  ]
  expect(homographyFrom(SQUARE, inLine)).toBeNull()
  expect(homographyFrom(SQUARE.slice(1), SQUARE.slice(1))).toBeNull()
  expect(isConvex(SQUARE)).toBe(true)
  expect(isConvex(SQUARE.toReversed())).toBe(true)
  expect(isConvex([SQUARE[0] ?? [0, 0], SQUARE[2] ?? [0, 0], SQUARE[1] ?? [0, 0], SQUARE[3] ?? [0, 0]])).toBe(false)
  expect(isConvex(inLine)).toBe(false)
})

/** A TIFF header with one directory that points to another: 1/250 s, f/2, ISO 64, 26 mm (Exif 2.32, TIFF 6.0; from memory). */
function tiff(little: boolean): number[] {
  const data = new DataView(new ArrayBuffer(120))
  data.setUint16(0, little ? 0x4949 : 0x4d4d)
  data.setUint16(2, 42, little)
  data.setUint32(4, 8, little)
  const directory = (at: number, entries: [tag: number, type: number, value: number][]) => {
    data.setUint16(at, entries.length, little)
    for (const [k, [tag, type, value]] of entries.entries()) {
      const entry = at + 2 + 12 * k
      data.setUint16(entry, tag, little)
      data.setUint16(entry + 2, type, little)
      data.setUint32(entry + 4, 1, little)
      if (type === 3) data.setUint16(entry + 8, value, little)
      else data.setUint32(entry + 8, value, little)
    }
  }
  directory(8, [[0x8769, 4, 30]])
  directory(30, [
    [0x829a, 5, 90],
    [0x829d, 5, 98],
    [0x8827, 3, 64],
    [0xa405, 3, 26],
  ])
  for (const [at, value] of [
    [90, 1],
    [94, 250],
    [98, 20],
    [102, 10],
  ] as const)
    data.setUint32(at, value, little)
  return [...new Uint8Array(data.buffer)]
}

test('exposure out of a file', () => {
  const exposed = { timeS: 0.004, fNumber: 2, iso: 64, focal35Mm: 26 }
  for (const little of [true, false]) {
    const body = [...'Exif\0\0'].map((c) => c.charCodeAt(0)).concat(tiff(little))
    const jpeg = [0xff, 0xd8, 0xff, 0xe0, 0, 4, 9, 9, 0xff, 0xe1, 0, body.length + 2, ...body]
    expect(readExposure(new Uint8Array(jpeg))).toEqual(exposed)
    const png = [
      0x89,
      0x50,
      0x4e,
      0x47,
      13,
      10,
      26,
      10,
      0,
      0,
      0,
      120,
      0x65,
      0x58,
      0x49,
      0x66,
      ...tiff(little),
      0,
      0,
      0,
      0,
    ]
    expect(readExposure(new Uint8Array(png))).toEqual(exposed)
    // Cut anywhere, it says less and never throws.
    for (let n = 0; n < jpeg.length; n += 7)
      expect(readExposure(new Uint8Array(jpeg.slice(0, n))).timeS ?? 0.004).toBe(0.004)
  }
  // ln(1/250 · 64/4) = ln 0.064
  expect(logExposure(exposed)).toBeCloseTo(Math.log(0.064), 12)
  expect(logExposure({ ...exposed, timeS: null })).toBeNull()
})
