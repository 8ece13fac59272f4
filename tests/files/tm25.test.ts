// Ray files of TM-25: what stands at which offset, the sums, the way back bit by bit, the light that the rays are, and files that are refused.
// Offsets: second-hand (src/files/tm25.ts); the numbers here are written out, not taken from there.
import { describe, expect, test } from 'vitest'
import { readBeam } from '../../src/beam/beam.ts'
import { inlineWorker, makePool } from '../../src/engine/workers/pool.ts'
import { readRayFile } from '../../src/files/tm25Read.ts'
import { type FileChunk, type RayFileSums, rayFileChunks } from '../../src/files/tm25Write.ts'
import { traceExits } from '../../src/job/rays/run.ts'
import type { Lamp } from '../../src/lamp/schema.ts'
import { rayFileTexts } from '../../src/report/photometry.ts'
import { fold } from '../../src/run/batches.ts'
import { expectWithin } from '../kit/expect.ts'
import { oneEmitter, traceHere, tube } from '../kit/traceHere.ts'

const TEXTS = rayFileTexts('Lampe “Ä” 灯', 'Light as rated', '0.1.0')
const FACTS = { date: '2026-11-30T12:00:00Z', texts: TEXTS, wattsPerWeight: 0.25 }
const HEAD = 36_288

/** Records as the engine leaves them: x y z, direction, radiant weight, luminous weight, nm. */
const ROWS = [
  Float32Array.from([1, 2, 3, 0.6, 0, 0.8, 1, 300, 450, -4, 5, 6, 0, 0, 1, 0.5, 150, 650]),
  Float32Array.from([7, 8, 9, 0, -0.6, 0.8, 0.1, 33, 555]),
]

async function fileOf(
  blocks: Iterable<Float32Array> | AsyncIterable<Float32Array>,
  facts = FACTS,
): Promise<{ bytes: Uint8Array; chunks: FileChunk[]; sums: RayFileSums }> {
  const chunks: FileChunk[] = []
  let sums: RayFileSums | null = null
  for await (const chunk of rayFileChunks(facts, blocks, (all) => (sums = all))) chunks.push(chunk)
  const bytes = new Uint8Array(Math.max(...chunks.map(({ at, bytes: b }) => at + b.length)))
  for (const { at, bytes: b } of chunks) bytes.set(b, at)
  return { bytes, chunks, sums: sums! }
}

function* pieces(bytes: Uint8Array, size: number) {
  for (let at = 0; at < bytes.length; at += size) yield bytes.subarray(at, at + size)
}

async function readBack(bytes: Uint8Array, size = bytes.length) {
  const rows: number[] = []
  const read = await readRayFile(pieces(bytes, size), { onHead: () => null, onRays: (r) => rows.push(...r) })
  return { read, rows }
}

const whyOf = async (bytes: Uint8Array): Promise<string> => {
  const { read } = await readBack(bytes)
  return read.ok ? 'read' : read.why
}

describe('written', () => {
  test('every field at its offset', async () => {
    const { bytes } = await fileOf(ROWS)
    const view = new DataView(bytes.buffer)
    expect(String.fromCharCode(...bytes.subarray(0, 4))).toBe('TM25')
    expect([4, 8].map((at) => view.getInt32(at, true))).toEqual([2013, 0])
    expectWithin(view.getFloat32(12, true), 0.25 * 483, { rel: 1e-6, because: 'single precision' })
    expectWithin(view.getFloat32(16, true), 0.25 * 1.6, { rel: 1e-6, because: 'single precision' })
    expect(view.getBigUint64(20, true)).toBe(3n)
    expect(String.fromCharCode(...bytes.subarray(28, 56))).toBe(`2026-11-30T12:00:00Z${'\0'.repeat(8)}`)
    expect([56, 60].map((at) => view.getInt32(at, true))).toEqual([0, 2])
    expect([64, 68, 72].map((at) => view.getFloat32(at, true))).toEqual([Number.NaN, 450, 650])
    expect(bytes.subarray(76, 256).every((b) => b === 0)).toBe(true)
    expect(Array.from({ length: 8 }, (_, i) => view.getInt32(256 + 4 * i, true))).toEqual([1, 1, 1, 1, 1, 0, 0, 0])
    const name = Array.from({ length: 11 }, (_, i) => String.fromCodePoint(view.getUint32(288 + 4 * i, true))).join('')
    expect(name).toBe('Lampe “Ä” 灯')
    expect(view.getUint32(288 + 4 * 11, true)).toBe(0)
    const equipment = Array.from({ length: 4 }, (_, i) =>
      String.fromCodePoint(view.getUint32(288 + 4 * 4000 + 4 * i, true)),
    )
    expect(equipment.join('')).toBe('None')
    expect(bytes.length).toBe(HEAD + 3 * 36)
    const second = Array.from({ length: 9 }, (_, i) => view.getFloat32(HEAD + 36 + 4 * i, true))
    expect(second).toEqual([-4, 5, 6, 0, 0, 1, 0.125, 650, 37.5])
  })

  test('the header comes first without its sums and last with them; blocks lie one after another', async () => {
    const { chunks, sums } = await fileOf(ROWS)
    expect(chunks.map(({ at }) => at)).toEqual([0, HEAD, HEAD + 72, 0])
    expect(new DataView(chunks[0]!.bytes.buffer).getBigUint64(20, true)).toBe(0n)
    expect(sums).toMatchObject({ rays: 3, fromNm: 450, toNm: 650 })
  })

  test('a text longer than its room is cut at 1000 characters', async () => {
    const { bytes } = await fileOf(ROWS, { ...FACTS, texts: { ...TEXTS, name: 'x'.repeat(1500), maker: 'y' } })
    const { read } = await readBack(bytes)
    expect(read.ok && [read.head.texts.name.length, read.head.texts.maker]).toEqual([1000, 'y'])
  })
})

describe('read back', () => {
  test.each([1, 7, 36, 50_000])('in pieces of %d bytes: the same bits', async (size) => {
    const { bytes } = await fileOf(ROWS)
    const { read, rows } = await readBack(bytes, size)
    if (!read.ok) throw new Error(read.why)
    const expected = Array.from(new Float32Array(bytes.slice(HEAD).buffer))
    expect(rows).toEqual(expected)
    expect(read.head).toMatchObject({ creation: 0, rays: 3, spectral: 'eachRay', date: FACTS.date, texts: TEXTS })
    expect(read.columns).toEqual(['xMm', 'yMm', 'zMm', 'dx', 'dy', 'dz', 'radiantW', 'wavelengthNm', 'luminousLm'])
    expect(read.notes).toEqual([])
  })

  test('a file of others: tables, two further columns, a text, no wavelengths', async () => {
    const { bytes } = await fileOf(ROWS)
    const head = bytes.slice(0, HEAD)
    const view = new DataView(head.buffer)
    view.setInt32(8, 1, true)
    view.setFloat32(12, Number.NaN, true)
    view.setInt32(60, 3, true)
    for (const [at, v] of [
      [76, 1],
      [80, 2],
      [84, 64],
      [268, 0],
      [272, 0],
    ] as const)
      view.setInt32(at, v, true)
    const table = new Uint8Array(32) // 4 + 8 · 2 = 20 bytes, filled up to 32
    new DataView(table.buffer).setInt32(0, 2, true)
    const label = (text: string) => {
      const room = new DataView(new ArrayBuffer(512))
      for (const [i, c] of [...text].entries()) room.setUint32(4 * i, c.codePointAt(0)!, true)
      return new Uint8Array(room.buffer)
    }
    const rays = new Float32Array([1, 2, 3, 0, 0, 1, 0.4, 7, 8].flatMap((v) => [v]))
    view.setBigUint64(20, 1n, true)
    const all = joined([head, table, label('α'), label(''), new Uint8Array(64).fill(1), new Uint8Array(rays.buffer)])
    const { read, rows } = await readBack(all, 1000)
    if (!read.ok) throw new Error(read.why)
    expect(read.columns.slice(6)).toEqual(['radiantW', 'α', 'column 2'])
    expect(rows).toEqual(Array.from(rays))
    expect(read.head).toMatchObject({ creation: 1, luminousLm: null, spectral: 'table', fromNm: 450 })
  })

  test('a Node Buffer in the middle of a larger one', async () => {
    const { bytes } = await fileOf(ROWS)
    const larger = Buffer.alloc(bytes.length + 9)
    larger.set(bytes, 5)
    const { read, rows } = await readBack(larger.subarray(5, 5 + bytes.length), HEAD)
    expect([read.ok, rows.slice(0, 6)]).toEqual([true, [...ROWS[0]!.slice(0, 6)]])
  })

  test('sums that differ from the header’s are said', async () => {
    const { bytes } = await fileOf(ROWS)
    new DataView(bytes.buffer).setFloat32(16, 3, true)
    const { read } = await readBack(bytes)
    expect(read.ok && read.notes).toEqual(['Its header says 3 W; its rays add up to 0.4 W.'])
  })

  test('whoever takes the rays may refuse them by the header', async () => {
    const { bytes } = await fileOf(ROWS)
    const sink = { onHead: () => 'Too many.', onRays: () => expect.unreachable() }
    expect(await readRayFile([bytes], sink)).toEqual({ ok: false, why: 'Too many.' })
  })
})

describe('refused in words', () => {
  test.each([
    ['not the letters', 0, 'int', 1, /does not begin with the letters TM25/],
    ['another version', 4, 'int', 7, /version is 7/],
    ['no rays', 20, 'big', 0n, /promises 0 rays/],
    ['rays without end', 20, 'big', 2n ** 63n, /promises 9223372036854775808 rays; expected 1 to 2000000000/],
    ['more rays than there are', 20, 'big', 4n, /promises 4 rays and ends after 3/],
    ['fewer rays than there are', 20, 'big', 2n, /stands after the last of its 2 rays/],
    ['unknown wavelengths', 60, 'int', 5, /given as 5/],
    ['tables without end', 76, 'int', 2 ** 31 - 1, /2147483647 spectral tables/],
    ['fewer than no columns', 80, 'int', -1, /-1 further columns/],
    ['a text without end', 84, 'int', 2 ** 30, /1073741824 bytes of text/],
    ['a flag that is none', 264, 'int', 2, /neither 0 nor 1/],
    ['rays without a place', 256, 'int', 0, /no place/],
    ['no wavelength where one is promised', 268, 'int', 0, /no such column/],
    ['a place that is no number', HEAD + 40, 'float', Number.POSITIVE_INFINITY, /Ray 2: its place/],
    ['a direction of another length', HEAD + 12, 'float', 0.7, /Ray 1: its direction has the length/],
    ['a flux below 0', HEAD + 72 + 24, 'float', -1, /Ray 3: its flux/],
  ] as const)('%s', async (_, at, kind, value, why) => {
    const { bytes } = await fileOf(ROWS)
    const view = new DataView(bytes.buffer)
    if (kind === 'big') view.setBigUint64(at, value as bigint, true)
    else if (kind === 'int') view.setInt32(at, value as number, true)
    else view.setFloat32(at, value as number, true)
    expect(await whyOf(bytes)).toMatch(why)
  })

  test('neither watts nor lumens', async () => {
    const { bytes } = await fileOf(ROWS)
    const view = new DataView(bytes.buffer)
    view.setInt32(264, 0, true)
    view.setInt32(272, 0, true)
    expect(await whyOf(bytes)).toMatch(/no flux/)
  })

  test('a file that ends anywhere', async () => {
    const { bytes } = await fileOf(ROWS)
    for (const length of [0, 3, 4, 300, HEAD - 1, HEAD, HEAD + 35, HEAD + 37, HEAD + 107])
      expect(await whyOf(bytes.subarray(0, length)), String(length)).toMatch(/TM25|ends|breaks off/)
  })
})

describe('of a traced lamp', () => {
  const lamp = oneEmitter({
    profile: { kind: 'gaussian', fwhmDeg: 30 },
    spectrum: { kind: 'white', classK: 4000 },
    tunnel: tube(20, 60, { reflectance: 0.8 }),
  })
  const RAYS = 1 << 17

  async function traced(of: Lamp, threads: number) {
    const pool = makePool(Array.from({ length: threads }, () => inlineWorker()))
    try {
      const trace = traceExits(pool, of, { seed: 1, rays: RAYS })
      expect(trace.rays).toBe(RAYS)
      return await fileOf(trace.blocks, { ...FACTS, wattsPerWeight: trace.emittedW / trace.rays })
    } finally {
      pool.close()
    }
  }

  test('flux and intensities are those of the trace of the same rays', async () => {
    const { bytes, sums } = await traced(lamp, 1)
    const run = traceHere(lamp, { rays: RAYS })
    const { figures, profile } = readBeam(run, lamp)
    const flux = figures.fluxOutLm!
    // The trace divides by what its rays happened to emit; a file's rays are worth what they are.
    expectWithin(sums.luminousLm, flux.value, {
      abs: 4 * flux.se + 1e-3 * flux.value,
      because: 'four standard errors, and the chance of the wavelengths',
    })
    const rays = new Float32Array(bytes.slice(HEAD).buffer)
    let watts = 0
    for (let at = 0; at < rays.length; at += 9) watts += rays[at + 6]!
    expectWithin(watts, sums.radiantW, { rel: 1e-9, because: 'the same sum' })
    // Every fortieth bin of the smoothed profile, re-binned over ± the axial cone's half of a ring.
    let tried = 0
    for (let i = 60; i < 400; i += 40) {
      const [from, to] = [profile.thetaDeg[i - 12]!, profile.thetaDeg[i + 12]!]
      let lm = 0
      for (let at = 0; at < rays.length; at += 9) {
        const theta = (Math.atan2(Math.hypot(rays[at + 3]!, rays[at + 4]!), rays[at + 5]!) * 180) / Math.PI
        if (theta >= from && theta < to) lm += rays[at + 8]!
      }
      const sr = 2 * Math.PI * (Math.cos((from * Math.PI) / 180) - Math.cos((to * Math.PI) / 180))
      let [mean, se] = [0, 0]
      for (let k = i - 11; k < i + 12; k++) [mean, se] = [mean + profile.cd[k]! / 23, se + profile.seCd[k]! / 23]
      if (!(mean > 0.01 * profile.cd[0]!)) continue
      expectWithin(lm / sr, mean, {
        abs: 4 * se + 0.005 * mean,
        because: `four standard errors, and edges of the ring, at ${from}°`,
      })
      tried++
    }
    expect(tried).toBeGreaterThan(3)
    expect(fold(run).run.rays).toBe(RAYS)
  })

  test('the same bytes on one worker or three', async () => {
    const [one, three] = [await traced(lamp, 1), await traced(lamp, 3)]
    expect(Buffer.compare(one.bytes, three.bytes)).toBe(0)
  })

  test('a lamp without light has no rays', async () => {
    const { sums, bytes } = await traced({ ...lamp, boards: [] }, 1)
    expect(sums.rays).toBe(0)
    expect(await whyOf(bytes)).toMatch(/promises 0 rays/)
  })
})

function joined(parts: readonly Uint8Array[]): Uint8Array {
  const all = new Uint8Array(parts.reduce((sum, p) => sum + p.length, 0))
  let at = 0
  for (const part of parts) {
    all.set(part, at)
    at += part.length
  }
  return all
}
