// From a ray file to what an emitter type of a document holds of it. The file is read once, as its bytes come; memory does not grow with it.

import type { RayFileHead } from '../../files/tm25.ts'
import { readRayFile } from '../../files/tm25Read.ts'
import { LIMITS } from '../../lamp/limits.ts'
import { printable } from '../../lamp/printable.ts'
import { eachRay, packRayRows, RAY_AT, RAY_SIZE } from '../../lamp/rays.ts'
import type { EmitterRays, EmitterType, Spectrum } from '../../lamp/schema.ts'
import { makeSpectrumBins } from '../../library/emitterSpectrum.ts'
import { FROM_NM, LM_PER_W, photopic, SAMPLES, STEP_NM } from '../../library/photopic.ts'
import { makePrioritySample, type Weighed } from '../../num/prioritySample.ts'
import { Cancelled } from '../../num/scheduler.ts'
import { makeSha256 } from '../../num/sha256.ts'
import { inThousands } from '../../num/thousands.ts'
import { mix } from '../../optics/draws.ts'
import { makeAngleBins, sourceLike } from './likeness.ts'

export interface RaySource {
  rays: EmitterRays
  /** What the document's own entries come nearest to them; null: as they were. */
  source: EmitterType['source'] | null
  profile: EmitterType['profile'] | null
  spectrum: Spectrum | null
  facts: RayFacts
  /** What the file's reader noted. */
  notes: string[]
}

export interface RayFacts {
  fileRays: number
  fileLm: number | null
  fileW: number | null
  /** Rays that the document holds. */
  rays: number
  /** ± at 95 % of a tenth of the light, as a share of it, by the number of those rays and their weights. */
  tenthWithin: number
  /** Of the file's watts, or lumens where it has no watts: outside 380 to 780 nm (left out), and on their way down. */
  outsideShare: number
  downShare: number
  /** What says each ray's wavelength. */
  wavelengths: 'eachRay' | 'single' | 'none'
  /** Middle of where the light starts, mm: x and y by weight, z the lowest; where a move would put it on the emitter. */
  middleMm: readonly [number, number, number]
  fromMm: readonly [number, number, number]
  toMm: readonly [number, number, number]
}

export type LoadedRays = { ok: true; loaded: RaySource } | { ok: false; why: string }

export interface RayFileInput {
  name: string
  chunks: AsyncIterable<Uint8Array>
  /** Bytes that are known to come; 0: not known. */
  size: number
}

const TO_NM = FROM_NM + STEP_NM * (SAMPLES - 1)
/** Names on screen and in the document. */
const NAME_CHARS = 200

/**
 * The file's rays as an emitter's, a sentence where it can't be read. `onShare` hears how much of the file has been read; an aborted signal throws
 * `Cancelled`. A file of more rays than the document holds is sampled by weight, with chance numbers that hang on the rays' order alone.
 */
export async function loadEmitterRays(
  { name, chunks, size }: RayFileInput,
  onShare: (share: number) => void = () => {},
  signal?: AbortSignal,
): Promise<LoadedRays> {
  const hash = makeSha256()
  let bytes = 0
  async function* heard() {
    for await (const chunk of chunks) {
      if (signal?.aborted) throw new Cancelled()
      hash.add(chunk)
      bytes += chunk.length
      if (size > 0) onShare(Math.min(1, bytes / size))
      yield chunk
    }
  }
  const sampler = makeSampler()
  const read = await readRayFile(heard(), {
    onHead: (head, columns) => sampler.begin(head, columns),
    onRays: (rows) => sampler.add(rows),
  })
  if (!read.ok) return read
  const taken = sampler.take()
  if (typeof taken === 'string') return { ok: false, why: taken }
  const { rows, spectrum, profile, facts, wavelengths } = taken
  const file = {
    fileRays: read.head.rays,
    fileLm: sixDigits(read.luminousLm ?? taken.lm ?? read.head.luminousLm),
    fileW: sixDigits(read.radiantW ?? read.head.radiantW),
  }
  const packed = packRayRows(rows)
  return {
    ok: true,
    loaded: {
      rays: {
        fileName: [...printable(name)].slice(-NAME_CHARS).join('') || 'rays',
        fileRays: file.fileRays,
        fileSha256: hash.hex(),
        fileLm: file.fileLm,
        ownWavelengths: wavelengths !== 'none',
        ...packed,
      },
      source: sourceLike(rows),
      profile,
      spectrum,
      facts: { ...file, ...facts, wavelengths, fromMm: packed.fromMm, toMm: packed.toMm },
      notes: read.notes,
    },
  }
}

/** Sums of single precision are good to no more. */
const sixDigits = (x: number | null): number | null => (x === null ? null : Number(x.toPrecision(6)))

/** The same rays with the middle of their start on the emitter. */
export const centredRays = (rays: EmitterRays, [x, y, z]: RayFacts['middleMm']): EmitterRays => ({
  ...rays,
  fromMm: [rays.fromMm[0] - x, rays.fromMm[1] - y, rays.fromMm[2] - z],
  toMm: [rays.toMm[0] - x, rays.toMm[1] - y, rays.toMm[2] - z],
})

/** Takes the file's rays one by one; what it holds does not grow. */
function makeSampler() {
  const sample = makePrioritySample(LIMITS.rays)
  const bins = makeSpectrumBins()
  const angles = makeAngleBins()
  const row = new Float64Array(RAY_SIZE)
  const sums = { weight: 0, outside: 0, down: 0, lm: 0, far: 0 }
  let width = 0
  let [wattsAt, lumensAt, nmAt] = [-1, -1, -1]
  let singleNm: number | null = null
  let index = 0

  function addOne(rows: Float32Array, at: number): void {
    const u = ((mix(++index) >>> 0) + 0.5) / 2 ** 32
    const nm = singleNm ?? (nmAt < 0 ? 0 : (rows[at + nmAt] ?? 0))
    const hasNm = singleNm !== null || nmAt >= 0
    const efficacy = hasNm ? LM_PER_W * photopic(nm) : 0
    const flux = rows[at + (wattsAt >= 0 ? wattsAt : lumensAt)] ?? 0
    sums.weight += flux
    if (hasNm && !(nm >= FROM_NM && nm <= TO_NM)) {
      sums.outside += flux
      return
    }
    const weight = wattsAt >= 0 || !hasNm ? flux : flux / efficacy
    if (!(weight > 0)) return
    sums.lm += weight * efficacy
    const [dx, dy, dz] = [rows[at + 3] ?? 0, rows[at + 4] ?? 0, rows[at + 5] ?? 0]
    const length = Math.sqrt(dx * dx + dy * dy + dz * dz)
    const [x, y, z] = [rows[at] ?? 0, rows[at + 1] ?? 0, rows[at + 2] ?? 0]
    row[0] = x
    row[1] = y
    row[2] = z
    row[3] = dx / length
    row[4] = dy / length
    row[5] = dz / length
    row[RAY_AT.nm] = nm
    sums.far = Math.max(sums.far, Math.abs(x), Math.abs(y), Math.abs(z))
    if (dz < 0) sums.down += flux
    if (hasNm) bins.add(nm, weight)
    angles.add(dz / length, weight)
    sample.add(row, weight, u)
  }

  return {
    begin({ rays, spectral, singleNm: one }: RayFileHead, columns: readonly string[]): string | null {
      if (rays > LIMITS.fileRays)
        return `It promises ${inThousands(rays)} rays; at most ${inThousands(LIMITS.fileRays)} are read.`
      width = columns.length
      wattsAt = columns.indexOf('radiantW')
      lumensAt = columns.indexOf('luminousLm')
      nmAt = columns.indexOf('wavelengthNm')
      singleNm = nmAt < 0 && spectral === 'single' ? one : null
      return null
    },
    add(rows: Float32Array): void {
      for (let at = 0; at < rows.length; at += width) addOne(rows, at)
    },
    /** A sentence where nothing is left to trace. */
    take() {
      const wavelengths = nmAt >= 0 ? ('eachRay' as const) : singleNm !== null ? ('single' as const) : ('none' as const)
      const { things } = sample.take()
      const heaviest = things.reduce((most, thing) => Math.max(most, thing.weight), 0)
      if (things.length === 0)
        return sums.outside > 0
          ? `None of its light lies between ${FROM_NM} and ${TO_NM} nm, where light is traced.`
          : 'None of its rays carries any light.'
      if (sums.far > LIMITS.lengthMm)
        return `A ray starts ${inThousands(Math.round(sums.far))} mm from its origin; at most ${inThousands(LIMITS.lengthMm)} mm fit. Lengths of TM-25 are in mm.`
      const rows = new Float32Array(things.length * RAY_SIZE)
      for (const [i, { numbers, weight }] of things.entries()) {
        rows.set(numbers, i * RAY_SIZE)
        rows[i * RAY_SIZE + RAY_AT.weight] = weight / heaviest
      }
      const share = (part: number) => (sums.weight > 0 ? part / sums.weight : 0)
      return {
        rows,
        wavelengths,
        profile: angles.profile(),
        spectrum: wavelengths === 'none' ? null : spectrumOf(bins.power(), singleNm),
        lm: wavelengths === 'none' ? null : wattsAt >= 0 ? sums.lm : null,
        facts: {
          rays: things.length,
          tenthWithin: 1.96 * Math.sqrt(9 / effective(things)),
          outsideShare: share(sums.outside),
          downShare: share(sums.down),
          middleMm: middleOf(rows),
        },
      }
    },
  }
}

/** How many rays of one weight know as much: (Σw)²/Σw² (L. Kish, Survey Sampling (1965), section 11.7; from memory). */
function effective(things: readonly Weighed[]): number {
  let [sum, squares] = [0, 0]
  for (const { weight } of things) {
    sum += weight
    squares += weight * weight
  }
  return (sum * sum) / squares
}

function spectrumOf(power: Float64Array, singleNm: number | null): Spectrum {
  if (singleNm !== null) return { kind: 'mono', wavelengthNm: singleNm }
  const peak = power.reduce((a, b) => Math.max(a, b), 0)
  return { kind: 'table', power: Array.from(power, (p) => Number((p / peak).toPrecision(6))) }
}

function middleOf(rows: Float32Array): [number, number, number] {
  let [w, x, y, z] = [0, 0, 0, Infinity]
  for (const ray of eachRay(rows)) {
    w += ray.weight
    x += ray.weight * ray.x
    y += ray.weight * ray.y
    z = Math.min(z, ray.z)
  }
  const tidy = (mm: number) => Number(mm.toFixed(4))
  return [tidy(x / w), tidy(y / w), tidy(z)]
}
