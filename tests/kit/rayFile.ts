// Ray files of TM-25 and rays of emitters for tests, made by hand: nothing here is taken from src/files.
import { packRayRows, RAY_SIZE } from '../../src/lamp/rays.ts'
import type { EmitterRays } from '../../src/lamp/schema.ts'
import { seededRandom } from '../../src/num/rng.ts'

/** A ray as these tests write it; the direction is made a unit vector. */
export interface TestRay {
  place?: readonly [number, number, number]
  direction?: readonly [number, number, number]
  watts?: number
  lumens?: number
  nm?: number
}

const HEAD = 36_288

interface FileOptions {
  watts?: boolean
  nm?: boolean
  lumens?: boolean
  /** Wavelength of all rays, in the header. */
  singleNm?: number
}

/** Bytes of a file: offsets second-hand (src/files/tm25.ts), written out. */
export function rayFileBytes(
  rays: readonly TestRay[],
  o: FileOptions = { watts: true, nm: true },
): Uint8Array<ArrayBuffer> {
  const columns = 6 + (o.watts ? 1 : 0) + (o.nm ? 1 : 0) + (o.lumens ? 1 : 0)
  const view = new DataView(new ArrayBuffer(HEAD + 4 * columns * rays.length))
  for (const [i, c] of [...'TM25'].entries()) view.setUint8(i, c.charCodeAt(0))
  view.setInt32(4, 2013, true)
  view.setFloat32(12, Number.NaN, true)
  view.setFloat32(16, Number.NaN, true)
  view.setBigUint64(20, BigInt(rays.length), true)
  view.setInt32(60, o.nm ? 2 : o.singleNm ? 1 : 0, true)
  view.setFloat32(64, o.singleNm ?? Number.NaN, true)
  for (const [i, flag] of [true, true, o.watts, o.nm, o.lumens].entries())
    view.setInt32(256 + 4 * i, flag ? 1 : 0, true)
  let at = HEAD
  const put = (value: number) => {
    view.setFloat32(at, value, true)
    at += 4
  }
  for (const { place = [0, 0, 0], direction = [0, 0, 1], watts = 1, lumens = 1, nm = 555 } of rays) {
    const length = Math.hypot(...direction)
    for (const v of [...place, ...direction.map((d) => d / length)]) put(v)
    if (o.watts) put(watts)
    if (o.nm) put(nm)
    if (o.lumens) put(lumens)
  }
  return new Uint8Array(view.buffer)
}

/** In pieces of so many bytes. */
export async function* inPieces(bytes: Uint8Array, size = 1 << 16): AsyncGenerator<Uint8Array> {
  for (let at = 0; at < bytes.length; at += size) yield bytes.subarray(at, at + size)
}

/** An even disc that shines as a Lambertian emitter: sin²θ even. */
export function lambertianRays(count: number, diameterMm: number, seed = 1, over: Partial<TestRay> = {}): TestRay[] {
  const random = seededRandom(seed)
  return Array.from({ length: count }, () => {
    const [r, a] = [(diameterMm / 2) * Math.sqrt(random()), 2 * Math.PI * random()]
    const [sin, b] = [Math.sqrt(random()), 2 * Math.PI * random()]
    return {
      place: [r * Math.cos(a), r * Math.sin(a), 0],
      direction: [sin * Math.cos(b), sin * Math.sin(b), Math.sqrt(Math.max(1e-6, 1 - sin * sin))],
      ...over,
    }
  })
}

/** The document's form of such rays. */
export function documentRays(rays: readonly TestRay[], over: Partial<EmitterRays> = {}): EmitterRays {
  const rows = new Float32Array(rays.length * RAY_SIZE)
  for (const [i, { place = [0, 0, 0], direction = [0, 0, 1], watts = 1, nm = 555 }] of rays.entries()) {
    const length = Math.hypot(...direction)
    rows.set([...place, ...direction.map((d) => d / length), nm, watts], i * RAY_SIZE)
  }
  return {
    fileName: 'by-hand.tm25ray',
    fileRays: rays.length,
    fileSha256: '0'.repeat(64),
    fileLm: null,
    ownWavelengths: true,
    ...packRayRows(rows),
    ...over,
  }
}
