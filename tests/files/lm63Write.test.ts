// LM-63 files written from beam sheets: lumens, peak and beam angle of what stands in them, read by two readers that aren't ours: that of the
// package three (examples, IESLoader), which gives shares of the greatest value at every degree, and a second one written for the tests.
import { type DataTexture, FloatType } from 'three'
import { IESLoader } from 'three/examples/jsm/loaders/IESLoader.js'
import { describe, expect, test } from 'vitest'
import { readBeam } from '../../src/beam/beam.ts'
import { readSphereMap } from '../../src/beam/sphereMap.ts'
import { readLm63 } from '../../src/files/lm63.ts'
import { profileFromPhotometry } from '../../src/files/lm63Profile.ts'
import { type Lm63Edition, type Lm63Light, lm63Text } from '../../src/files/lm63Write.ts'
import type { Lamp, Lens } from '../../src/lamp/schema.ts'
import { seededRandom } from '../../src/num/rng.ts'
import { fold } from '../../src/run/batches.ts'
import type { Run } from '../../src/run/types.ts'
import { expectWithin } from '../kit/expect.ts'
import { profiledRun } from '../kit/handRun.ts'
import { cdAt, type PlainPhotometry, readPlainly, zonalLumens } from '../kit/photometryReader.ts'
import { oneEmitter, traceHere } from '../kit/traceHere.ts'

const RAD = Math.PI / 180
const LAMP = oneEmitter()
/** As the writer promises. */
const FLUX = { rel: 0.005, because: 'the promised half per cent' }

const lightOf = (run: Run, lamp: Lamp): Lm63Light => ({
  ...readBeam(run, lamp),
  sphereMap: readSphereMap(fold(run)),
  lamp: lamp.name,
  seed: run.seed,
  rays: run.rays,
})

function textOf(light: Lm63Light, lamp = LAMP, edition: Lm63Edition = 2019): string {
  const written = lm63Text(light, lamp, {
    edition,
    date: '2026-11-30',
    version: '0',
    input: { watts: 12.5, of: 'invented' },
  })
  if (!written.ok) throw new Error(written.why)
  return written.text
}

const written = (cd: (theta: number, phi: number) => number, fineDeg: number): PlainPhotometry =>
  readPlainly(textOf(lightOf(profiledRun({ cd, shape: { fineHalfRad: fineDeg * RAD } }), LAMP)))

const beamDeg = (file: PlainPhotometry, peak: number): number => {
  let at = 0
  while (cdAt(file, at, 0) > peak / 2) at += 0.001
  return 2 * at
}

describe('closed forms', () => {
  test('Lambertian of 1000 lm: I₀ = Φ/π, beam 120°, zonal sum 1000 lm', () => {
    const file = written((t) => (1000 / Math.PI) * Math.max(0, Math.cos(t)), 89.9)
    expect([file.gamma[0], file.gamma.at(-1), file.psi]).toEqual([0, 90, [0]])
    expectWithin(zonalLumens(file), 1000, FLUX)
    expectWithin(file.cd[0]![0]!, 1000 / Math.PI, { rel: 1e-3, because: 'the cone of 0.25° about the axis' })
    expectWithin(beamDeg(file, 1000 / Math.PI), 120, { abs: 0.1, because: 'straight lines over steps of 1.5°' })
  })

  test.each([20, 5, 2])('Gaussian of %d° at half of its peak', (fwhm) => {
    const gauss = (t: number) => 5000 * Math.exp(-4 * Math.LN2 * (t / (fwhm * RAD)) ** 2)
    const file = written(gauss, 1.5 * fwhm)
    const flux = 2 * Math.PI * 5000 * integral((t) => (gauss(t) / 5000) * Math.sin(t), 6 * fwhm * RAD)
    expect(file.psi).toEqual([0])
    expectWithin(zonalLumens(file), flux, FLUX)
    // Means over the axial cone of 0.25°: 1 − ln 2 · (2 · 0.25/fwhm)² · … of the peak at most.
    const cone = Math.LN2 * (0.5 / fwhm) ** 2
    expectWithin(file.cd[0]![0]!, 5000, { rel: 0.002 + cone, because: 'the cone about the axis' })
    expectWithin(beamDeg(file, file.cd[0]![0]!), fwhm, { rel: 0.005 + cone, because: 'steps of a sixteenth of it' })
  })

  test('a lamp that shines behind itself reaches to 180°', () => {
    const file = written(() => 100, 89.9)
    expect(file.gamma.at(-1)).toBe(180)
    expectWithin(zonalLumens(file), 400 * Math.PI, FLUX)
  })
})

describe('beams that are not round', () => {
  const two = (t: number, phi: number) => {
    const [x, y] = [(t / RAD) * Math.cos(phi), (t / RAD) * Math.sin(phi)]
    return 2000 * Math.exp(-((x - 2) ** 2) / 18 - (y + 1) ** 2 / 4) + 600 * Math.exp(-((x + 5) ** 2 + (y - 3) ** 2) / 6)
  }

  test('every direction as it is, turned to count from behind the lamp', () => {
    const file = written(two, 15)
    expect([file.psi[0], file.psi.at(-1)]).toEqual([0, 360])
    expect(file.psi.length).toBeGreaterThan(24)
    expect(file.cd[0]).toEqual(file.cd.at(-1))
    for (let t = 0.5; t < 12; t += 0.7)
      for (let phiDeg = 3; phiDeg < 360; phiDeg += 31)
        expectWithin(cdAt(file, t, -phiDeg), two(t * RAD, phiDeg * RAD), {
          abs: 60,
          because: '3 % of the peak: discs and straight lines',
        })
  })

  test('light beyond the map over direction: a lobe at 60° on one side', () => {
    const lobe = (t: number, phi: number) =>
      two(t, phi) + 80 * Math.exp(-(((t / RAD - 60) / 12) ** 2)) * Math.max(0, Math.cos(phi))
    const light = lightOf(profiledRun({ cd: lobe, shape: { fineHalfRad: 15 * RAD } }), LAMP)
    const file = readPlainly(textOf(light))
    expectWithin(zonalLumens(file), light.figures.fluxOutLm!.value, FLUX)
    for (const [gamma, phiDeg] of [
      [60, 0],
      [60, 45],
      [50, 300],
      [60, 180],
    ] as const)
      expectWithin(cdAt(file, gamma, -phiDeg), lobe(gamma * RAD, phiDeg * RAD), {
        abs: 3,
        because: 'sectors of 15° and angles up to 5° apart',
      })
    // Without the sphere's map the mean over azimuth stands there.
    const { sphereMap: _, ...without } = light
    expectWithin(cdAt(readPlainly(textOf(without)), 60, 0), 80 / Math.PI, { abs: 3, because: 'as above' })
  })

  test('lumens and peak of beams drawn at random', () => {
    for (let seed = 1; seed <= 4; seed++) {
      const random = seededRandom(seed)
      const spots = Array.from({ length: 3 }, () => {
        const [x, y] = [6 * random() - 3, 6 * random() - 3]
        return { x, y, wide: 1 + 3 * random(), cd: 500 + 2000 * random() }
      })
      const cd = (t: number, phi: number) => {
        const [x, y] = [(t / RAD) * Math.cos(phi), (t / RAD) * Math.sin(phi)]
        return spots.reduce((sum, s) => sum + s.cd * Math.exp(-((x - s.x) ** 2 + (y - s.y) ** 2) / s.wide ** 2), 0)
      }
      const run = profiledRun({ cd, shape: { fineHalfRad: 14 * RAD } })
      const light = lightOf(run, LAMP)
      const file = readPlainly(textOf(light))
      expect(file.psi.length, `seed ${seed}`).toBeGreaterThan(24)
      expectWithin(zonalLumens(file), light.figures.fluxOutLm!.value, FLUX)
      expectWithin(Math.max(...file.cd.flat()), light.figures.peakIntensityCd!.value, {
        rel: 0.03,
        because: 'its place lies between the table’s angles',
      })
    }
  })

  test('read as an emitter’s own light it lies where it lay', () => {
    const run = profiledRun({ cd: two, shape: { fineHalfRad: 15 * RAD } })
    const read = readLm63(textOf(lightOf(run, LAMP)))
    if (!read.ok) throw new Error(read.why)
    expect(read.photometry.edition).toBe(2019)
    const made = profileFromPhotometry(read.photometry)
    if (!made.ok || made.profile.kind !== 'map') throw new Error('no map')
    const { thetaDeg, phiDeg, intensity } = made.profile
    // Towards +x, −y, where the greater of the two spots lies: φ about −27°.
    const k = phiDeg.findIndex((phi) => phi > 325)
    const i = thetaDeg.findIndex((t) => t > 2.2)
    expect(phiDeg[k]).toBeLessThan(345)
    expectWithin(intensity[k]![i]!, two(thetaDeg[i]! * RAD, phiDeg[k]! * RAD) / 2000, {
      abs: 0.03,
      because: 'as above',
    })
  })
})

test('noise does not make a round beam another: traced, 65,536 rays', () => {
  const lamp = oneEmitter({ profile: { kind: 'gaussian', fwhmDeg: 20 } })
  const run = traceHere(lamp, { rays: 1 << 16 })
  const light = lightOf(run, lamp)
  const file = readPlainly(textOf(light, lamp))
  expect(file.psi).toEqual([0])
  expectWithin(zonalLumens(file), light.figures.fluxOutLm!.value, FLUX)
})

describe('read by the package three', () => {
  test.each([2002, 2019] as const)('edition %d: shares of the peak, and lumens over the peak', (edition) => {
    const fwhm = 40
    const gauss = (t: number) => 700 * Math.exp(-4 * Math.LN2 * (t / (fwhm * RAD)) ** 2)
    const light = lightOf(profiledRun({ cd: gauss, shape: { fineHalfRad: 60 * RAD } }), LAMP)
    const data = sharesByThree(textOf(light, LAMP, edition))
    const share = (i: number) => data[i]!
    const step = 180 / 179
    let srOfPeak = 0
    for (let i = 0; i < 90; i++) {
      const at = i * step * RAD
      expectWithin(share(i), gauss(at) / 700, { abs: 0.003, because: 'straight lines over steps of 1.2°' })
      srOfPeak += 2 * Math.PI * share(i) * Math.sin(at) * step * RAD
    }
    expectWithin(srOfPeak * light.figures.axialIntensityCd!.value, light.figures.fluxOutLm!.value, FLUX)
  })

  test('planes', () => {
    const cd = (t: number, phi: number) =>
      t < Math.PI / 2 ? 100 * Math.cos(t) * (1 + 0.5 * Math.cos(phi) + 0.3 * Math.sin(2 * phi)) : 0
    const text = textOf(lightOf(profiledRun({ cd, shape: { fineHalfRad: 89.9 * RAD } }), LAMP))
    const data = sharesByThree(text)
    const most = Math.max(...readPlainly(text).cd.flat())
    for (const [i, psi] of [
      [20, 30],
      [45, 100],
      [60, 250],
    ] as const)
      expectWithin(data[i + 180 * psi]! * most, cd((i * 180 * RAD) / 179, -psi * RAD), {
        abs: 4,
        because: '3 % of the peak',
      })
  })
})

describe('the form of the text', () => {
  const run = profiledRun({ cd: (t) => 100 * Math.max(0, Math.cos(t)), shape: { fineHalfRad: 89.9 * RAD } })
  const lamp = { ...LAMP, name: 'Fjällampe “Nº 1” [proto]\r\nTILT=NONE 灯' }

  test.each([
    [2002, 'IESNA:LM-63-2002', 1],
    [2019, 'IES:LM-63-2019', 1.0001],
  ] as const)('%d: first line, required keywords, the thirteen numbers', (edition, first, generation) => {
    const text = textOf(lightOf(run, lamp), lamp, edition)
    const file = readPlainly(text)
    expect(file.first).toBe(first)
    const names = file.keywords.map(([name]) => name)
    expect(names.slice(0, 6)).toEqual(['TEST', 'TESTLAB', 'ISSUEDATE', 'MANUFAC', 'LUMINAIRE', 'OTHER'])
    expect(new Set(names.slice(6))).toEqual(new Set(['MORE']))
    expect(file.keywords[0]![1]).toMatch(/^Computed prediction .*; nothing was measured$/)
    expect(file.keywords[4]![1]).toBe('Fjallampe "No 1" (proto) TILT NONE ?')
    // One lamp, absolute, factor 1, type C, metres; the round face of 100 mm; factors; watts.
    expect(file.head).toEqual([1, -1, 1, file.gamma.length, 1, 1, 2, -0.1, -0.1, 0, 1, generation, 12.5])
    if (edition === 2019) expect(text).toContain('\r\n1 1.00010 12.5\r\n')
    expect(text.split('\r\n').every((line) => line.length <= 254 && /^[\x20-\x7e]*$/.test(line))).toBe(true)
    expect(text.endsWith('\r\n') && !text.replaceAll('\r\n', '').includes('\n')).toBe(true)
  })

  test('the opening is the lens’s, length along horizontal 0', () => {
    const lens: Lens = {
      ...{ kind: 'ideal', zMm: 100, focalMm: 100, diameterMm: 60, aperture: 'rectangle', heightMm: 20 },
    } as Lens
    expect(readPlainly(textOf(lightOf(run, LAMP), { ...LAMP, lens })).head.slice(7, 10)).toEqual([0.02, 0.06, 0])
  })
})

describe('refused in words', () => {
  const whyOf = (light: Lm63Light) => {
    const made = lm63Text(light, LAMP, { edition: 2019, date: '', version: '0', input: null })
    return made.ok ? null : made.why
  }

  test('no light', () => {
    expect(whyOf(lightOf(profiledRun({ cd: () => 0, emittedLm: 100 }), LAMP))).toMatch(/^No light leaves the lamp/)
  })

  test('a spot of a few bins in a flood', () => {
    const cd = (t: number) => 100 * Math.max(0, Math.cos(t)) + (t < 0.002 ? 1e6 : 0)
    const run = profiledRun({ cd, shape: { fineHalfRad: 89.9 * RAD } })
    expect(whyOf(lightOf(run, LAMP))).toMatch(/too coarse to tell its shape|don’t add up/)
  })
})

/** Shares of the greatest value: 180 vertical angles from 0 to 180°, of each whole degree around. */
function sharesByThree(text: string): Float32Array {
  const loader = Object.assign(new IESLoader(), { type: FloatType })
  return (loader.parse(text) as DataTexture).image.data as Float32Array
}

/** Midpoint rule. */
function integral(f: (t: number) => number, to: number, n = 20_000): number {
  let sum = 0
  for (let i = 0; i < n; i++) sum += f(((i + 0.5) / n) * to)
  return (sum * to) / n
}

test('a flux known but for rounding is said to be exact, any other has its ±', () => {
  const light = lightOf(profiledRun({ cd: (t) => Math.max(0, Math.cos(t)), shape: { fineHalfRad: 15 * RAD } }), LAMP)
  const fluxLine = (se: number) => {
    const figures = { ...light.figures, fluxOutLm: { ...light.figures.fluxOutLm!, se } }
    return /Light that leaves the lamp: [^\r\n]*/.exec(textOf({ ...light, figures }))?.[0]
  }
  expect(fluxLine(4e-12)).toMatch(/lm, exact for this model\. /)
  expect(fluxLine(0.01)).toMatch(/lm \+- 0\.021 \(95 %\)\. /)
})
