// A danger sheet by formula, for what shows one: no ray is traced. Numbers are in the range of the first example.
import { checkDanger } from '../../src/checks/danger.ts'
import type { EyeReading } from '../../src/hazard/eye.ts'
import { screenRisk } from '../../src/hazard/eyeRisk.ts'
import type { Front } from '../../src/hazard/front.ts'
import { readHarmAt, readThings } from '../../src/hazard/inTheWay.ts'
import type { PartsHeat } from '../../src/hazard/onParts.ts'
import { readSunDay, USUAL_SUN } from '../../src/hazard/sunDay.ts'
import type { SunMapPoint } from '../../src/hazard/sunMap.ts'
import { readInterference } from '../../src/hazard/visualInterference.ts'
import type { DangerReading } from '../../src/job/danger/result.ts'
import { clearOf } from '../../src/job/danger/run.ts'
import { frontZMm } from '../../src/lamp/front.ts'
import type { Lamp } from '../../src/lamp/schema.ts'
import { BOARD_PLASTIC_LIMIT, LINING_LIMITS, OPTIC_LIMIT, thresholds } from '../../src/library/thresholds.ts'

const spot = { kWm2: 3.5, se: 0.1, xMm: 10, yMm: -4, zMm: 1050, discMm: 10 }

/** Brightest half a metre out, then falling as 1/d². */
const front = (at: number, kWm2: number): Front => ({
  worst: { ...spot, kWm2, zMm: at + 500 },
  curve: [1, 250, 500, 1000, 2000, 4000, 8000].map((distanceMm) => ({
    distanceMm,
    kWm2: distanceMm <= 500 ? kWm2 * (0.8 + distanceMm / 2500) : kWm2 * (500 / distanceMm) ** 2,
    se: 0.01,
    discMm: 10,
  })),
})

export function fakeDanger(lamp: Lamp, kWm2 = 20): DangerReading {
  const frontZ = frontZMm(lamp)
  const whole = front(frontZ, kWm2)
  const table = thresholds(lamp.danger)
  const map = sunMap(lamp)
  const worstByDisc = [
    { discMm: 3.5, kWm2: 1.3 * kWm2, se: 0.02 },
    { discMm: 10, kWm2, se: 0.01 },
  ]
  const parts = {
    worstKWm2: kWm2,
    front: whole,
    small: { worst: null, curve: [] },
    foci: [{ ...spot, kWm2, zMm: frontZ + 500, distanceMm: 500, coneHalfRad: 0.2 }],
    volume: volume(frontZ, kWm2),
    clear: clearOf({ front: whole, small: { worst: null, curve: [] }, worstByDisc }, lamp),
    harm: [300, 1000, 3000, 10_000].map((d) => readHarmAt(whole, d, table, 20)),
    things: readThings(whole, lamp, table),
    parts: partsHeat(lamp),
    worstByDisc,
    beside: { leakedW: 12, worst: null, curve: [] },
    ghost: null,
    coarse: [],
    sunMap: map,
    sunPlaces: [],
    sunDay: readSunDay(lamp, map, 1000, lamp.danger?.sun ?? USUAL_SUN),
    bareLens: lamp.lens && {
      focusMm: 1096,
      kWm2: 2030,
      tiltDeg: 0,
      before: null,
      discMm: 10,
      sunImageMm: 10.2,
      mmPerMinute: 4.78,
    },
    eye: eyes(),
  }
  const head = {
    lamp: lamp.name,
    light: '“Full”, cold start at −20 °C',
    seed: 1,
    rays: 1_000_000,
    discMm: 10,
    ambientC: 20,
    sunWm2: 1000,
  }
  return { ...head, ...parts, findings: checkDanger(lamp, parts) }
}

function volume(frontZ: number, kWm2: number): DangerReading['volume'] {
  const distances = [1, 500, 1000, 2000, 4000, 8000]
  const rings = 8
  const planes = distances.map((distanceMm) => ({
    distanceMm,
    halfMm: 300 + 0.1 * distanceMm,
    n: 4,
    kWm2: new Float32Array(16).fill(kWm2 / (1 + (distanceMm / 1000) ** 2)),
  }))
  const values = distances.flatMap((d) =>
    Array.from({ length: rings }, (_, k) => (kWm2 * Math.exp(-k / 3)) / (1 + (d / 1000) ** 2)),
  )
  const ringMm = Float32Array.from(planes, (p) => p.halfMm / rings)
  return { frontZMm: frontZ, planes, ringMap: { rings, ringMm, kWm2: Float32Array.from(values) }, round: true }
}

function sunMap(lamp: Lamp): SunMapPoint[] {
  return [0, 5, 20, 60].flatMap((tiltDeg) =>
    (tiltDeg === 0 ? [0] : [0, 90, 180, 270]).map((azimuthDeg): SunMapPoint => {
      const wall = tiltDeg >= 20 && lamp.tunnel !== null
      return {
        kWm2: (lamp.lens ? 900 : 1) / (1 + tiltDeg),
        se: 0.5,
        xMm: -tiltDeg * 10,
        yMm: 0,
        zMm: wall ? 420 : 0,
        discMm: 10,
        tiltDeg,
        azimuthDeg,
        lands: wall ? 'wall' : 'board',
        board: wall ? null : (lamp.boards[0]?.id ?? null),
        flat: null,
      }
    }),
  )
}

function partsHeat(lamp: Lamp): PartsHeat {
  const wall = { kWm2: 0.4, spot, cleanC: 64, dirtyC: 90, absorbedShare: 0.12 }
  return {
    lens: lamp.lens && {
      ...{
        kWm2: 3.8,
        spot,
        cleanC: 28,
        dirtyC: 225,
        name: 'Lens',
        material: 'Acrylic (PMMA)',
        absorbedShare: 0.02,
        absorbedW: 3.5,
        faceC: 85,
      },
      ...{ keepBelowC: 70, deflectionC: 95, source: 'A source.' },
    },
    wall: lamp.tunnel && { ...wall, limits: LINING_LIMITS.map((l) => ({ ...l, passed: l.limitC < 64 })) },
    boards: {
      kWm2: 1.7,
      spot,
      faceC: 85,
      faceFrom: 'stated in the document',
      plasticC: 177,
      plasticSeconds: 0,
      limit: { ...BOARD_PLASTIC_LIMIT, passed: true },
    },
    elements: [],
    optics: [{ name: 'Collimator', takenW: 0.2, settlesC: 164, faceC: 85, limit: { ...OPTIC_LIMIT, passed: true } }],
    absent: {
      ...(lamp.lens ? {} : { lens: 'The lamp has no lens.' }),
      ...(lamp.tunnel ? {} : { wall: 'The lamp has no tunnel.' }),
    },
  }
}

function eyes(): DangerReading['eye'] {
  const source = { blueWm2sr: 1.6e5, thermalWm2sr: 2.1e6 }
  const nearest: EyeReading = {
    ...{ distanceMm: 200, angleDeg: 0, place: { xMm: 0, yMm: 0, zMm: 1200 }, irradianceWm2: 3000, plusShare: 0.02 },
    ...{ illuminanceLx: 9e5, blueIrradianceWm2: 240, thermalIrradianceWm2: 3100, subtendsRad: 1.3 },
    ...{ blueSeconds: 6.3, thermalSeconds: 0.2 },
    means: [],
    fields: [0.0017, 0.011, 0.035, 0.1].map((fieldRad) => ({
      ...{ fieldRad, blueWm2sr: 1e5, thermalWm2sr: 1e6, by: 'rays' as const },
    })),
  }
  const metres = { blink: 0.61, tenSeconds: 5.7, hundredSeconds: 77 }
  const aside = { blink: 0, tenSeconds: 2.2, hundredSeconds: 4.7 }
  const ultraviolet = { fromNm: 380, actinicPerW: 1e-7, nearPerW: 1e-4 }
  const at500lx = {
    ...nearest,
    distanceMm: 100_000,
    fields: nearest.fields.map((f) => ({ ...f, blueWm2sr: 1, thermalWm2sr: 1 })),
  }
  return {
    source,
    readings: [nearest],
    nearest,
    distances: [
      { angleDeg: 0, metres, noLimitM: 240 },
      ...[10, 20, 30, 45].map((angleDeg) => ({ angleDeg, metres: aside, noLimitM: 23 })),
    ],
    glasses: { angleDeg: 0, metres: { blink: 20, tenSeconds: 100, hundredSeconds: 400 }, noLimitM: 1600 },
    means: { distances: [], glasses: { angleDeg: 0, metres, noLimitM: 240 } },
    risk: { at200: screenRisk(nearest, source, ultraviolet), at500lx: screenRisk(at500lx, source, ultraviolet) },
    interference: readInterference([nearest], 5e6),
    flicker: [],
  }
}
