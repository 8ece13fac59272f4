// A ray file into what a document holds of it: kept whole or sampled by weight, its flux, its wavelengths, what it is like, what is refused.
import { createHash } from 'node:crypto'
import { describe, expect, test } from 'vitest'
import { inlineWorker, makePool } from '../../../src/engine/workers/pool.ts'
import { rayFileChunks } from '../../../src/files/tm25Write.ts'
import { type LoadedRays, loadEmitterRays, type RaySource } from '../../../src/job/rays/emitterRays.ts'
import { traceExits } from '../../../src/job/rays/run.ts'
import { fluxFault, withoutRays, withRays } from '../../../src/job/rays/takeRays.ts'
import { RAY_SIZE, rayCount, raysOf } from '../../../src/lamp/rays.ts'
import { readLamp } from '../../../src/lamp/read.ts'
import type { Lamp } from '../../../src/lamp/schema.ts'
import { emitterEfficacy, emitterPower } from '../../../src/library/emitterSpectrum.ts'
import { Cancelled } from '../../../src/num/scheduler.ts'
import { rayFileTexts } from '../../../src/report/photometry.ts'
import { rayFileNotes, rayFileRows } from '../../../src/report/rayFile.ts'
import { expectWithin } from '../../kit/expect.ts'
import { inPieces, lambertianRays, rayFileBytes, type TestRay } from '../../kit/rayFile.ts'
import { deliveredShare, exitShare, oneEmitter, traceHere, tube } from '../../kit/traceHere.ts'

const load = (bytes: Uint8Array, name = 'by-hand.tm25ray'): Promise<LoadedRays> =>
  loadEmitterRays({ name, chunks: inPieces(bytes), size: bytes.length })

async function loaded(bytes: Uint8Array): Promise<RaySource> {
  const read = await load(bytes)
  if (!read.ok) throw new Error(read.why)
  return read.loaded
}

const whyOf = async (bytes: Uint8Array) => {
  const read = await load(bytes)
  return read.ok ? 'read' : read.why
}

/** Share of the weight of the document's rays that `counts`. */
function weightShare({ rays }: RaySource, counts: (row: Float32Array) => boolean): number {
  const rows = raysOf(rays)
  let [part, all] = [0, 0]
  for (let at = 0; at < rows.length; at += RAY_SIZE) {
    const row = rows.subarray(at, at + RAY_SIZE)
    all += row[7]!
    if (counts(row)) part += row[7]!
  }
  return part / all
}

describe('a file that fits whole', () => {
  const rays: TestRay[] = [
    { place: [0, 0, 0], watts: 1, nm: 450 },
    { place: [0.1, 0, 0], watts: 3, nm: 550 },
    { place: [0, 0.1, 0], watts: 0, nm: 650 },
  ]
  test('its rays with their weights, its name, number and SHA-256', async () => {
    const bytes = rayFileBytes(rays)
    const { rays: doc, facts } = await loaded(bytes)
    expect(doc).toMatchObject({
      fileName: 'by-hand.tm25ray',
      fileRays: 3,
      fileSha256: createHash('sha256').update(bytes).digest('hex'),
      ownWavelengths: true,
    })
    expect([rayCount(doc), facts.rays, facts.fileRays]).toEqual([2, 2, 3])
    expectWithin(
      weightShare({ rays: doc } as RaySource, (r) => Math.abs(r[6]! - 550) < 1),
      0.75,
      { rel: 1e-3, because: 'a step of the weight' },
    )
    // 683.002 V(λ): V(450) = 0.038, V(550) = 0.9949501 (CIE 1924).
    const lm = 683.002 * (0.038 + 3 * 0.9949501)
    expectWithin(facts.fileLm!, lm, { rel: 1e-5, because: 'six digits' })
    expectWithin(emitterEfficacy({ spectrum: { kind: 'equalEnergy' }, rays: doc }), lm / 4, {
      rel: 1e-3,
      because: 'steps of weight and wavelength',
    })
    expect(facts.fileW).toBe(4)
  })
  test('the spectrum on the grid has their watts and their mean wavelength', async () => {
    const { rays: doc, spectrum } = await loaded(
      rayFileBytes([
        { nm: 452, watts: 1 },
        { nm: 601, watts: 2 },
      ]),
    )
    const power = emitterPower({ spectrum: { kind: 'equalEnergy' }, rays: doc })
    const mean = power.reduce((sum, p, i) => sum + p * (380 + 5 * i), 0) / power.reduce((a, b) => a + b, 0)
    expectWithin(mean, (452 + 2 * 601) / 3, { abs: 0.05, because: 'steps of weight and wavelength' })
    expect(spectrum?.kind).toBe('table')
  })
})

describe('flux and wavelengths as files have them', () => {
  test('lumens alone with wavelengths: weighed by watts', async () => {
    const source = await loaded(
      rayFileBytes(
        [
          { lumens: 38, nm: 450, place: [1, 0, 0] },
          { lumens: 994.9501, nm: 550 },
        ],
        { lumens: true, nm: true },
      ),
    )
    expectWithin(
      weightShare(source, (r) => r[0]! > 0.5),
      0.5,
      { rel: 1e-3, because: 'a step of the weight' },
    )
    expectWithin(source.facts.fileLm!, 38 + 994.9501, { rel: 1e-6, because: 'single precision' })
  })
  test('one wavelength for all, in the header', async () => {
    const { rays, spectrum, facts } = await loaded(rayFileBytes([{}, {}], { watts: true, singleNm: 620 }))
    expect([spectrum, facts.wavelengths, rays.ownWavelengths]).toEqual([
      { kind: 'mono', wavelengthNm: 620 },
      'single',
      true,
    ])
  })
  test('none: the emitter’s spectrum stays, and counts', async () => {
    const source = await loaded(rayFileBytes([{}, {}], { lumens: true }))
    expect([source.spectrum, source.facts.wavelengths, source.facts.fileLm]).toEqual([null, 'none', 2])
    const lamp = withRays(oneEmitter({ spectrum: { kind: 'white', classK: 3000 } }), 'e', source, {
      centred: false,
      flux: false,
    })
    expect(lamp.emitterTypes[0]!.spectrum).toEqual({ kind: 'white', classK: 3000 })
    expect(rayFileRows(source).at(-1)).toEqual(['Wavelengths', 'none: the emitter’s spectrum counts'])
  })
  test('what lies outside 380 to 780 nm is left out, and said', async () => {
    const source = await loaded(rayFileBytes([{ nm: 850 }, { nm: 500 }, { nm: 365, watts: 2 }]))
    expect([source.facts.rays, source.facts.outsideShare]).toEqual([1, 0.75])
    expect(rayFileNotes(source, { bodyMm: 5, heightMm: 1 }).join(' ')).toContain(
      '75 % of its light lies outside 380 to 780 nm',
    )
  })
})

describe('a larger file is sampled by weight', () => {
  // Ten dim rays to one bright one: half of the light in each.
  const many: TestRay[] = Array.from({ length: 66_000 }, (_, i) =>
    i % 11 === 0 ? { place: [5, 0, 0], watts: 10, nm: 450 } : { place: [-5, 0, 0], watts: 1, nm: 600 },
  )
  test('shares of the light stay, within the error that is said', async () => {
    const source = await loaded(rayFileBytes(many))
    expect(source.facts).toMatchObject({ rays: 32_768, fileRays: 66_000 })
    const share = weightShare(source, (r) => r[0]! > 0)
    // Bright rays are all there or nearly; the dim ones are a sample.
    expectWithin(share, 0.5, { abs: 0.02, because: 'four errors of half of 32,768 rays' })
    expect(source.facts.tenthWithin).toBeGreaterThan(0.03)
    expect(source.facts.tenthWithin).toBeLessThan(0.06)
    expect(rayFileNotes(source, { bodyMm: 20, heightMm: 1 })[0]).toMatch(
      /keeps 32\u202f768 rays, drawn by weight, .* known within ± [3-6]\.?\d* %/,
    )
  })
  test('the same file, the same rays, in pieces of any size', async () => {
    const bytes = rayFileBytes(many.slice(0, 40_000))
    const [a, b] = [await loaded(bytes), await loadEmitterRays({ name: 'x', chunks: inPieces(bytes, 999), size: 0 })]
    expect(b.ok && b.loaded.rays.packed).toBe(a.rays.packed)
  })
  test('many files of unequal weights: no part is drawn too often', async () => {
    // Weights over three decades; each hundredth of the rays is a part.
    const random = lambertianRays(45_000, 2, 3).map(
      (r, i): TestRay => ({ ...r, watts: 10 ** ((i % 7) / 2), nm: 400 + (i % 7) * 50 }),
    )
    const source = await loaded(rayFileBytes(random))
    const all = random.reduce((sum, r) => sum + r.watts!, 0)
    for (let k = 0; k < 7; k++) {
      const truth = random.reduce((sum, r, i) => sum + (i % 7 === k ? r.watts! : 0), 0) / all
      const share = weightShare(source, (r) => Math.abs(r[6]! - 400 - 50 * k) < 1)
      expectWithin(share, truth, {
        abs: 5 * Math.sqrt(truth / 32_768),
        because: 'five errors, without the gain of the heavy ones',
      })
    }
  })
})

describe('what it is like, in the document’s own terms', () => {
  test('a Lambertian disc: its diameter, half the intensity near 60°', async () => {
    const { source, profile } = await loaded(rayFileBytes(lambertianRays(40_000, 3)))
    expect(source?.shape).toBe('disc')
    expectWithin(source?.shape === 'disc' ? source.diameterMm : 0, 3, {
      rel: 0.02,
      because: 'quantiles of 30,000 rays',
    })
    if (profile?.kind !== 'table') throw new Error('no table')
    for (const [i, theta] of profile.thetaDeg.entries())
      if (theta > 12 && theta < 75)
        expectWithin(
          profile.intensity[i]! / profile.intensity[5]!,
          Math.cos((theta * Math.PI) / 180) / Math.cos((profile.thetaDeg[5]! * Math.PI) / 180),
          { abs: 0.12, because: 'rings of 800 rays, two of them' },
        )
  })
  test('recorded on a sphere of 6 mm: still the disc', async () => {
    const rays = lambertianRays(20_000, 2).map(({ place, direction }): TestRay => {
      const s = 6
      return {
        place: [0, 1, 2].map((k) => place![k]! + s * direction![k]!) as unknown as [number, number, number],
        direction: direction!,
      }
    })
    const { source } = await loaded(rayFileBytes(rays))
    expectWithin(source?.shape === 'disc' ? source.diameterMm : 0, 2, {
      rel: 0.03,
      because: 'quantiles, and the plane found',
    })
  })
  test('a rectangle', async () => {
    const rays = lambertianRays(20_000, 2).map(
      (r, i): TestRay => ({ ...r, place: [((i * 0.618034) % 1) * 4 - 2, ((i * 0.7548777) % 1) - 0.5, 0] }),
    )
    const { source } = await loaded(rayFileBytes(rays))
    if (source?.shape !== 'rectangle') throw new Error('no rectangle')
    expectWithin(source.widthMm, 4, { rel: 0.03, because: 'quantiles' })
    expectWithin(source.heightMm, 1, { rel: 0.03, because: 'quantiles' })
  })
})

describe('taken into a lamp', () => {
  test('the flux stays the emitter’s unless the file’s is wanted; the middle moves onto the emitter where wished', async () => {
    const source = await loaded(
      rayFileBytes(
        lambertianRays(400, 1).map((r) => ({
          ...r,
          place: [r.place![0] + 40, r.place![1], 300] as const,
          watts: 0.01,
        })),
      ),
    )
    const base = oneEmitter({ fluxLm: 777 })
    const [as, moved] = [false, true].map(
      (on) => withRays(base, 'e', source, { centred: on, flux: on }).emitterTypes[0]!,
    ) as [Lamp['emitterTypes'][number], Lamp['emitterTypes'][number]]
    expect(as.fluxLm).toBe(777)
    expectWithin(moved.fluxLm, 4 * 683.002, { rel: 1e-3, because: 'V(555) = 1' })
    expect(as.rays!.fromMm[2]).toBe(300)
    expect([moved.rays!.fromMm[2], moved.rays!.toMm[2]]).toEqual([0, 0])
    expect(Math.abs(moved.rays!.fromMm[0] + moved.rays!.toMm[0])).toBeLessThan(0.2)
    expect(as.note).toBe('Light over angle: of the rays of by-hand.tm25ray.')
    const notes = rayFileNotes(source, as).join(' ')
    expect(notes).toMatch(/start up to 303 mm from the emitter, whose package measures 1 mm. Are its lengths mm/)
    expect(notes).toMatch(/Their middle is 40, .*, 300 mm/)
    expect(
      withoutRays(withRays(base, 'e', source, { centred: true, flux: false }), 'e').emitterTypes[0]!.rays,
    ).toBeUndefined()
  })
  test('a file without lumens, or with too many, is no flux', () => {
    expect([fluxFault(null), fluxFault(5), fluxFault(2e5)]).toEqual([
      'It does not say how many lumens it has.',
      null,
      'An emitter’s flux lies between 0.01 and 100\u202f000 lm.',
    ])
  })
})

describe('refused in words', () => {
  test.each([
    ['no ray file', async () => whyOf(new TextEncoder().encode('IESNA:LM-63')), /does not begin with the letters TM25/],
    [
      'one that breaks off',
      async () => whyOf(rayFileBytes([{}, {}]).subarray(0, 36_300)),
      /breaks off: it promises 2 rays and ends after 0/,
    ],
    ['no light', async () => whyOf(rayFileBytes([{ watts: 0 }])), /None of its rays carries any light/],
    [
      'no visible light',
      async () => whyOf(rayFileBytes([{ nm: 940 }])),
      /None of its light lies between 380 and 780 nm/,
    ],
    ['wavelengths in micrometres', async () => whyOf(rayFileBytes([{ nm: 0.55 }])), /None of its light lies between/],
    [
      'a ray far away',
      async () => whyOf(rayFileBytes([{ place: [0, 20_000, 0] }])),
      /20\u202f000 mm from its origin; at most 10\u202f000 mm fit/,
    ],
    [
      'a direction that is none',
      async () => {
        const bytes = rayFileBytes([{}])
        new DataView(bytes.buffer).setFloat32(36_288 + 20, 0.5, true)
        return whyOf(bytes)
      },
      /Ray 1: its direction has the length/,
    ],
    [
      'more than are read',
      async () => {
        const bytes = rayFileBytes([{}])
        new DataView(bytes.buffer).setBigUint64(20, 300_000_000n, true)
        return whyOf(bytes)
      },
      /promises 300\u202f000\u202f000 rays; at most 200\u202f000\u202f000 are read/,
    ],
  ])('%s', async (_, why, words) => expect(await why()).toMatch(words))
  test('an aborted signal ends the reading', async () => {
    const control = new AbortController()
    const bytes = rayFileBytes(lambertianRays(5000, 1))
    const reading = loadEmitterRays(
      { name: 'x', chunks: inPieces(bytes, 4096), size: bytes.length },
      () => control.abort(),
      control.signal,
    )
    await expect(reading).rejects.toBeInstanceOf(Cancelled)
  })
})

test('round trip: the light of one lamp, through its ray file, as the emitter of another, keeps lumens and angles', async () => {
  const first = oneEmitter({
    fluxLm: 900,
    profile: { kind: 'gaussian', fwhmDeg: 50 },
    spectrum: { kind: 'white', classK: 4000 },
    tunnel: tube(8, 20, { reflectance: 0.8 }),
  })
  const pool = makePool([inlineWorker()])
  const trace = traceExits(pool, first, { seed: 1, rays: 1 << 16 })
  const facts = {
    date: '2026-11-30T12:00:00Z',
    texts: rayFileTexts('First', 'Light as rated', '0.1.0'),
    wattsPerWeight: trace.emittedW / trace.rays,
  }
  const chunks = []
  for await (const chunk of rayFileChunks(facts, trace.blocks)) chunks.push(chunk)
  pool.close()
  const bytes = new Uint8Array(Math.max(...chunks.map((c) => c.at + c.bytes.length)))
  for (const chunk of chunks) bytes.set(chunk.bytes, chunk.at)
  const source = await loaded(bytes)
  const second = readLamp(withRays(oneEmitter({ heightMm: 0.5 }), 'e', source, { centred: true, flux: true }))
  if (!second.ok) throw new Error(second.why.join(' '))
  const [one, other] = [traceHere(first, { rays: 1 << 15 }), traceHere(second.lamp, { rays: 1 << 15 })]
  const lumens = deliveredShare(one)
  expectWithin(other.emittedLm * deliveredShare(other).value, 900 * lumens.value, {
    abs: 4 * 900 * lumens.se + 0.003 * 900,
    because: 'four errors, and the chance of the wavelengths',
  })
  expectWithin(other.emittedLm / other.emittedW, source.facts.fileLm! / source.facts.fileW!, {
    rel: 0.005,
    because: 'a sample’s mean of 683.002 V',
  })
  for (const deg of [10, 20, 30, 45]) {
    const within = (of: typeof one) => {
      const inside = exitShare(of, (e) => e.dz > Math.cos((deg * Math.PI) / 180))
      const all = exitShare(of, () => true)
      return { value: inside.value / all.value, se: inside.se / all.value }
    }
    const [a, b] = [within(one), within(other)]
    expectWithin(b.value, a.value, { sigmas: 4, se: Math.hypot(a.se, b.se) })
  }
})
