// A photograph made by a camera whose every step is known, packed as PNG by node's own zlib; the light on the wall is a formula.
import { readFileSync, writeFileSync } from 'node:fs'
import { deflateSync } from 'node:zlib'
import { expect, test } from 'vitest'
import { writePng } from '../../src/files/png.ts'
import { pngPixels } from '../../src/files/pngPixels.ts'
import { readLampText } from '../../src/lamp/read.ts'
import { mapped } from '../../src/readings/photo/homography.ts'
import { CAMERA, photograph, toPixels } from '../readings/photo/camera.ts'
import { lampwright, scratch } from './kit.ts'

/** PNG (third edition, W3C 2025), 9.2: each row of RGB with none of the filters, Sub, Up, Average and Paeth (9.4) in turn. */
function png(rgba: Uint8ClampedArray, widthPx: number, heightPx: number): Uint8Array {
  const row = 3 * widthPx
  const value = (y: number, k: number) =>
    y < 0 || k < 0 ? 0 : (rgba[4 * (y * widthPx + Math.floor(k / 3)) + (k % 3)] ?? 0)
  const lines = Uint8Array.from({ length: (row + 1) * heightPx }, (_, i) => {
    const [y, k] = [Math.floor(i / (row + 1)), (i % (row + 1)) - 1]
    const filter = y % 5
    if (k < 0) return filter
    const [left, up, corner] = [value(y, k - 3), value(y - 1, k), value(y - 1, k - 3)]
    const by = (side: number) => Math.abs(left + up - corner - side)
    const nearest = [left, up, corner].reduce((a, b) => (by(b) < by(a) ? b : a))
    return value(y, k) - ([0, left, up, (left + up) >> 1, nearest][filter] ?? 0)
  })
  const header = new Uint8Array(13)
  const view = new DataView(header.buffer)
  view.setUint32(0, widthPx)
  view.setUint32(4, heightPx)
  header.set([8, 2], 8)
  return writePng([
    { type: 'IHDR', data: header },
    { type: 'IDAT', data: deflateSync(lines) },
    { type: 'IEND', data: new Uint8Array(0) },
  ])
}

/** Lux over the wall: a round beam, half its peak 471 mm from the middle. */
const lux = (x: number, y: number) => 1000 * Math.exp(-(x * x + y * y) / (2 * 400 ** 2))

test('a picture becomes readings in a copy of the lamp: lux of the formula within their stated doubts', async () => {
  const { widthPx, heightPx, marks, widthMm, heightMm } = CAMERA
  const dir = scratch()
  const rgba = photograph(CAMERA, lux, 0.8 / 1000, 1)
  const file = png(rgba, widthPx, heightPx)
  expect(await pngPixels(file)).toEqual({ ok: true, widthPx, heightPx, rgba })
  writeFileSync(`${dir}/wall.png`, file)
  const [x, y] = mapped(toPixels(CAMERA), [0, 0])
  const order = (picture: string) => [
    'measure',
    'picture',
    'stile-lamp',
    picture,
    '--marks',
    marks.flatMap(([u, v]) => [u * widthPx, v * heightPx]).join(','),
    '--size',
    `${widthMm}x${heightMm}`,
    '--lux-at',
    `${x},${y}`,
    '--lux',
    '1000',
    '--wall',
    '5',
    '--out',
    `${dir}/read.lamp.json`,
  ]
  const { out, err, status } = await lampwright(order(`${dir}/wall.png`))
  expect(err).toBe('')
  expect(status).toBe(0)
  expect(out).toMatch(/^picture: picture of a wall at 5 m: \d+ places/)
  const read = readLampText(readFileSync(`${dir}/read.lamp.json`, 'utf8'))
  const set = read.ok ? read.lamp.readings?.sets[0] : undefined
  if (set?.kind !== 'grid' || !set.picture) throw new Error('no picture in the lamp')
  expect(set.rows.length).toBeGreaterThan(500)
  // The light that falls to a tenth of the meter's is open by the camera's curve as well (k = 3).
  const bright = set.rows.filter((r) => lux(r.xMm, r.yMm) > 300)
  expect(bright.length).toBeGreaterThan(100)
  const { curve, readPct } = set.picture
  for (const r of bright) {
    const log = Math.log(r.lx / lux(r.xMm, r.yMm))
    const u = Math.hypot((r.doubtPct ?? 0) / 100, (r.shadePct ?? 0) / 100, readPct / 100, curve * Math.log(r.lx / 1000))
    expect(Math.abs(log) / u).toBeLessThan(3)
  }

  writeFileSync(`${dir}/wall.jpg`, Uint8Array.of(0xff, 0xd8, 0xff, 0xe1))
  const refused = await lampwright([...order(`${dir}/wall.jpg`), '--force'])
  expect(refused.status).toBe(2)
  expect(refused.err).toMatch(/wall\.jpg is no PNG picture: save it as PNG/)

  // A second exposure of a quarter of the time, by hand since no file says it: the camera's curve is known better. Stray light as it was read.
  writeFileSync(`${dir}/short.png`, png(photograph(CAMERA, lux, 0.2 / 1000, 2), widthPx, heightPx))
  writeFileSync(
    `${dir}/even.png`,
    png(
      photograph(CAMERA, () => 500, 0.8 / 1000, 3),
      widthPx,
      heightPx,
    ),
  )
  const two = [...order(`${dir}/wall.png`).slice(0, -2), '--json', '--times', '1/250,1/1000', '--stray', '0.3']
  two.splice(4, 0, `${dir}/short.png`)
  const json = await lampwright(two)
  expect(json.err).toBe('')
  const { set: better, cells } = JSON.parse(json.out) as { set: typeof set; cells: { across: number; down: number } }
  expect(better.strayLx).toBe(0.3)
  expect(better.note).toBe('From 2 exposures')
  expect(better.picture?.curve).toBeLessThan(0.8 * curve)
  expect(better.rows.length).toBeLessThanOrEqual(cells.across * cells.down)
  // The lens darkens the corners by cos² more than is known without the even field: what that leaves open in them gets less.
  const even = JSON.parse((await lampwright([...two, '--even', `${dir}/even.png`])).out) as { set: typeof set }
  const most = (of: NonNullable<typeof set>) => Math.max(...of.rows.map((r) => r.shadePct ?? 0))
  expect(most(even.set)).toBeLessThan(0.5 * most(better))
  const untimed = await lampwright(two.map((word) => (word === '1/250,1/1000' ? '1/250' : word)))
  expect([untimed.status, untimed.err]).toEqual([2, expect.stringMatching(/--times names 1 for 2 pictures/)])
  // What is wrong is said before what is missing.
  const wrong = await lampwright(['measure', 'picture', 'stile-lamp', `${dir}/wall.png`, '--times', 'soon', '--json'])
  expect([wrong.status, wrong.err]).toEqual([2, expect.stringMatching(/--times: "soon" does not fit/)])
})
