// A beam sheet with plausible numbers that nobody traced: for drawing and testing the page without an engine. The
// shapes are right, the values are invented; never compare a real run with it.
import type { Finding } from '../../src/checks/finding.ts'
import type { Figure, FigureName, GridMap, HotSpot, Sheet, SunAtTilt, Variant } from '../../src/job/beam/sheet.ts'
import { placeEmitters } from '../../src/lamp/place.ts'
import type { Lamp } from '../../src/lamp/schema.ts'
import { fakePaths } from './fakePaths.ts'

export type FakeState = 'rough' | 'settled'

const RAYS: Record<FakeState, number> = { rough: 16_384, settled: 6_291_456 }
const BEAM_DEG = 5.12
const FIELD_DEG = 9.7

/** Even hash noise in -1..1, the same at every call. */
function noise(i: number): number {
  const s = Math.sin(i * 127.1 + 311.7) * 43758.5453
  return 2 * (s - Math.floor(s)) - 1
}

/** Shape of the beam, 1 on the axis: a flat-topped core and a wide halo. */
function beamShape(thetaDeg: number): number {
  const core = Math.exp(-Math.LN2 * (thetaDeg / (BEAM_DEG / 2)) ** 2.6)
  return 0.985 * core + 0.015 * Math.exp(-((thetaDeg / 9) ** 2)) + 2e-5 * Math.exp(-((thetaDeg / 45) ** 2))
}

function grid(
  columns: number,
  rows: number,
  extent: [number, number, number, number],
  unit: GridMap['unit'],
  of: GridMap['of'],
  at: (x: number, y: number) => number,
  grain: number,
): GridMap {
  const [fromX, toX, fromY, toY] = extent
  const values = new Float32Array(columns * rows)
  for (let r = 0; r < rows; r++) {
    for (let c = 0; c < columns; c++) {
      const x = fromX + ((c + 0.5) / columns) * (toX - fromX)
      const y = fromY + ((r + 0.5) / rows) * (toY - fromY)
      values[r * columns + c] = Math.max(0, at(x, y) * (1 + grain * noise(r * columns + c)))
    }
  }
  return { columns, rows, fromX, toX, fromY, toY, unit, values, of }
}

/** Bumps of the array: a hexagonal ripple of the given pitch. */
function ripple(x: number, y: number, pitch: number): number {
  const k = (2 * Math.PI) / pitch
  const wave = (deg: number) =>
    Math.cos(k * (x * Math.cos((deg * Math.PI) / 180) + y * Math.sin((deg * Math.PI) / 180)))
  return (wave(0) + wave(60) + wave(120)) / 3
}

function maps(lamp: Lamp, peakCd: number, grain: number) {
  const { lens, tunnel, target } = lamp
  const half = lens ? lens.diameterMm / 2 : 0
  const d2 = target.distanceM ** 2
  const w = target.widthM / 2
  const h = target.heightM / 2
  const face = lamp.face.sizeMm / 2
  const round = tunnel ? (Math.PI * (tunnel.inMm + tunnel.outMm)) / 2 : 0
  const deg = (m: number) => (Math.atan(m / target.distanceM) * 180) / Math.PI
  const inside = (x: number, y: number, r: number) => (Math.hypot(x, y) <= r ? 1 : 0)
  return {
    directionMap: grid(
      96,
      96,
      [-8, 8, -8, 8],
      'deg',
      'cd',
      (x, y) => peakCd * beamShape(Math.hypot(x, y)) * (1 + 0.06 * ripple(x, y, 1.4)),
      grain,
    ),
    targetMap: grid(
      64,
      64,
      [-w, w, -h, h],
      'm',
      'lx',
      (x, y) => (peakCd / d2) * beamShape(deg(Math.hypot(x, y))) * (1 + 0.04 * ripple(x, y, target.widthM / 5)),
      grain,
    ),
    lensMap: lens
      ? grid(
          80,
          80,
          [-half, half, -half, half],
          'mm',
          'kW/m2',
          (x, y) =>
            inside(x, y, half) *
            (2.1 * Math.exp(-((Math.hypot(x - 30, y + 12) / 170) ** 2)) + 0.12 * (1 + ripple(x, y, 90))),
          grain,
        )
      : null,
    wallMap: tunnel
      ? grid(
          72,
          48,
          [0, round, tunnel.zInMm, tunnel.zOutMm],
          'mm',
          'kW/m2',
          (x, z) => {
            const along = (z - tunnel.zInMm) / (tunnel.zOutMm - tunnel.zInMm)
            return (
              1.6 * Math.exp(-(((along - 0.18) / 0.22) ** 2)) * (1 + 0.3 * Math.cos((12 * Math.PI * x) / round)) + 0.05
            )
          },
          grain,
        )
      : null,
    faceMap: grid(
      64,
      64,
      [-face, face, -face, face],
      'mm',
      'kW/m2',
      (x, y) => inside(x, y, face) * (0.32 + 0.05 * ripple(x, y, 36) - 0.1 * (Math.hypot(x, y) / face) ** 2),
      grain,
    ),
  }
}

function ledgerOf(lamp: Lamp, emittedLm: number, emittedW: number, relative: number): Sheet['ledger'] {
  const { lens, tunnel } = lamp
  const losses: [string, string, number][] = [['opticLoss', 'Optic loss', 0.12]]
  if (tunnel) losses.push(['wall', 'Tunnel wall', 0.0712], ['leakedFaceGap', 'Leaked, face gap', 0.0021])
  losses.push(['face', 'Face', 0.0083], ['behindFace', 'Behind the face', 0.0006])
  if (lens && tunnel) losses.push(['leakedLensGap', 'Leaked, lens gap', 0.0064])
  if (lens) {
    losses.push(['outsideLens', 'Outside the lens', tunnel ? 0.0004 : 0.21], ['lensRim', 'Lens rim', 0.0005])
    losses.push(['lensAbsorbed', 'Lens absorbed', 0.0137], ['lensReturnedLost', 'Sent back by the lens, lost', 0.0418])
  }
  const delivered = 1 - losses.reduce((sum, l) => sum + l[2], 0)
  const riser = lens ? 0.052 : 0
  const parts: [string, string, number][] = [
    ['deliveredInBeam', 'Delivered inside the beam', 0.61],
    ['deliveredInField', 'Delivered, beam to field', 0.25],
    ['deliveredOutside', 'Delivered outside the field', 0.14 - riser],
    ['deliveredViaRiser', 'Delivered by way of a riser', riser],
  ]
  for (const [line, name, share] of parts) if (share > 0) losses.push([line, name, share * delivered])
  losses.push(
    ['roulette', 'Roulette, taken less given', 0],
    ['limit', 'Bounce limit', 0],
    ['lost', 'Lost to rounding', 0],
  )
  return losses.map(([line, name, share]) => ({
    line,
    name,
    share: { value: share, se: line === 'roulette' ? 2e-6 : relative * 0.4 * Math.sqrt(share * 0.02) },
    lm: share * emittedLm,
    w: share * emittedW,
  }))
}

function findingsOf(lamp: Lamp): Finding[] {
  const z = lamp.lens?.zMm ?? 50
  const found: Finding[] = [
    {
      rule: 'sun-inside',
      severity: 'severe',
      title: 'Sun falling in at 0° tilt: 214 kW/m² on a board',
      why: 'The lens makes a burning glass of the lamp. White solder mask chars above about 20 kW/m² (invented for this sheet).',
      cure: 'Cover the lens whenever the lamp is stored or carried in daylight.',
      place: { kind: 'point', xMm: 4, yMm: -2, zMm: 14, on: 'inside' },
    },
    {
      rule: 'front-hot',
      severity: 'severe',
      title: 'In front of the lens: 41 kW/m² at 620 mm, enough to set dark cloth alight in about 9 s',
      why: 'Light from the whole array crosses there before it spreads. The threshold is the critical flux of cotton.',
      cure: 'Keep 2.4 m clear in front of the lamp, and say so on its housing.',
      place: { kind: 'point', xMm: 0, yMm: 3, zMm: z + 620, on: 'front' },
    },
    {
      rule: 'lens-hot',
      severity: 'warning',
      title: 'Lens: 2.4 kW/m² over a 10 mm disc',
      why: 'Acrylic softens near 90 °C. The lens takes up about 1.4 % of the light that crosses it.',
      cure: 'Leave the lens free to air on both sides.',
      place: { kind: 'point', xMm: 30, yMm: -12, zMm: z, on: 'lens' },
    },
    {
      rule: 'board-edge',
      severity: 'warning',
      title: 'Board B12 stands 1.2 mm from the edge of the face; 2 mm is wanted',
      why: 'The margin of the face is 2 mm, as set in the lamp.',
      cure: 'Move the board inwards by 0.8 mm or take a larger face.',
      place: { kind: 'board', boardIndex: Math.min(11, Math.max(0, lamp.boards.length - 1)) },
    },
    {
      rule: 'lens-inside-focus',
      severity: 'note',
      title: 'The lens stands 50 mm inside its focal distance',
      why: 'Out of focus on purpose, the beam is no picture of the array.',
      cure: 'Nothing, if an even beam is wanted.',
      place: { kind: 'part', part: 'lens' },
    },
  ]
  return found.filter((f) => lamp.lens || f.place.kind === 'board' || f.rule === 'front-hot')
}

function spotsOf(lamp: Lamp, relative: number): Sheet['hotSpots'] {
  const disc = lamp.reading.hotDiscMm
  const spot = (kWm2: number, xMm: number, yMm: number, zMm: number): HotSpot => ({
    kWm2,
    se: kWm2 * relative,
    xMm,
    yMm,
    zMm,
    discMm: disc,
  })
  const z = lamp.lens?.zMm ?? 50
  return {
    face: spot(0.38, -12, 31, 0),
    front: spot(41.2, 0, 3, z + 620),
    ...(lamp.lens ? { lens: spot(2.41, 30, -12, z), sunInside: { ...spot(214, 4, -2, 14), discMm: 5 } } : {}),
    ...(lamp.tunnel ? { wall: spot(2.07, 121, 8, 203) } : {}),
  }
}

function sunOf(lamp: Lamp, relative: number): SunAtTilt[] {
  if (!lamp.lens) return []
  const rows: [number, number, SunAtTilt['lands'], number, number][] = [
    [0, 214, 'board', 4, 14],
    [2, 197, 'board', 38, 14],
    [5, 152, 'face', 96, 0],
    [10, 88, 'wall', 118, 96],
    [20, 37, 'wall', 204, 590],
    [40, 9.1, 'wall', 251, 870],
    [60, 2.8, 'air', 130, 960],
  ]
  return rows.map(([tiltDeg, kWm2, lands, xMm, zMm]) => ({
    tiltDeg,
    lands,
    kWm2,
    se: kWm2 * relative,
    xMm,
    yMm: 0,
    zMm,
    discMm: 5,
  }))
}

function variantsOf(lamp: Lamp, cd: Figure, relative: number): Variant[] {
  const of = (name: Variant['name'], timesCd: number, lm: number, beamDeg: number): Variant => ({
    name,
    rays: 1_048_576,
    figures: {
      axialIntensityCd: { value: cd.value * timesCd, se: cd.value * timesCd * relative },
      fluxOutLm: { value: lm, se: lm * relative * 0.1 },
      beamAngleDeg: { value: beamDeg, se: beamDeg * relative },
    },
  })
  const list = [of('as designed', 1, 58_600, BEAM_DEG)]
  if (lamp.lens) list.push(of('without lens', 0.27, 64_800, 12.4))
  if (lamp.tunnel) list.push(of('without tunnel', 0.94, 52_300, 5.05))
  list.push(of('bare emitters', 0.061, 41_900, 14.9))
  return list
}

/** A whole sheet for a lamp: rough has few rays, wide errors, grainy maps and no variants yet. */
export function fakeSheet(lamp: Lamp, state: FakeState = 'settled'): Sheet {
  const rough = state === 'rough'
  const relative = rough ? 0.06 : 0.0031
  const f = (value: number, times = 1): Figure => ({ value, se: Math.abs(value) * relative * times })
  const emitters = placeEmitters(lamp)
  const emittedLm = emitters.reduce((sum, e) => sum + e.emitter.fluxLm, 0)
  const emittedW = emittedLm / 325
  const ledger = ledgerOf(lamp, emittedLm, emittedW, relative)
  const share = ledger.reduce((sum, l) => sum + (l.line.startsWith('delivered') ? l.share.value : 0), 0)
  const axialCd = (share * emittedLm) / 0.0098
  const figures: Partial<Record<FigureName, Figure>> = {
    emittedLm: { value: emittedLm, se: 0 },
    fluxOutLm: f(share * emittedLm, 0.1),
    efficiency: f(share, 0.1),
    axialIntensityCd: f(axialCd),
    peakIntensityCd: f(axialCd * 1.024, 1.3),
    beamAngleDeg: f(BEAM_DEG, 0.8),
    fieldAngleDeg: f(FIELD_DEG, 1.1),
    halfFluxAngleDeg: f(5.61, 0.4),
    ninetyFluxAngleDeg: f(13.9, 0.9),
    patternContrast: f(0.118, 2),
    spillOutsideBeam: f(0.39, 0.5),
    spillOutsideField: f(0.14, 0.8),
    spillOutsideTarget: f(0.482, 0.5),
    beamDistanceM: f(2 * Math.sqrt(axialCd), 0.5),
    targetCentreLx: f(axialCd / lamp.target.distanceM ** 2),
    targetMeanLx: f((0.71 * axialCd) / lamp.target.distanceM ** 2),
    targetMinLx: f((0.38 * axialCd) / lamp.target.distanceM ** 2, 3),
    targetEvenness: f(0.535, 2),
    inverseSquareFromM: f(46, 4),
    faceEvenness: f(0.61, 2),
    faceVariation: f(0.13, 2),
  }
  const absent: Sheet['absent'] = {}
  if (lamp.lens) Object.assign(figures, { lensEvenness: f(0.08, 2), lensVariation: f(0.64, 1) })
  else
    Object.assign(absent, {
      lensEvenness: 'the lamp has no lens',
      lensVariation: 'the lamp has no lens',
      lens: 'the lamp has no lens',
    })
  if (!lamp.lens) absent.sunInside = 'without a lens nothing gathers the sun'
  if (!lamp.tunnel) absent.wall = 'the lamp has no tunnel'
  const n = 181
  const thetaDeg = Float32Array.from({ length: n }, (_, i) => (i < 121 ? i * 0.1 : 12 + (i - 120) * 1.3))
  const seconds = rough ? 0.08 : 31.4
  return {
    lamp: lamp.name,
    seed: 1,
    reached: null,
    rays: RAYS[state],
    seconds,
    raysPerSecond: RAYS[state] / seconds,
    threads: 2,
    engine: 'cpu',
    engineWhy: 'no graphics device offers itself for computing',
    state,
    light: { kind: 'rated' },
    emittedColour: { x: 0.345, y: 0.352 },
    figures,
    absent,
    ledger,
    profile: {
      thetaDeg,
      cd: thetaDeg.map((t, i) => axialCd * beamShape(t) * (1 + relative * 0.6 * noise(i))),
      seCd: thetaDeg.map((t) => axialCd * Math.sqrt(beamShape(t)) * relative * 0.6),
      byDirection: Array.from({ length: 12 }, (_, i) => ({
        azimuthDeg: i * 15,
        beamDeg: BEAM_DEG * (1 + 0.04 * Math.cos((i * Math.PI) / 6)),
        fieldDeg: FIELD_DEG * (1 + 0.03 * Math.cos((i * Math.PI) / 6)),
      })),
    },
    ...maps(lamp, axialCd, rough ? 0.45 : 0.025),
    hotSpots: spotsOf(lamp, relative * 1.5),
    sun: sunOf(lamp, relative * 1.5),
    risks: [
      {
        material: 'Cotton cloth, dark',
        criticalKWm2: 13,
        source: 'invented for this sheet',
        secondsAtWorst: 9.2,
        clearDistanceMm: 2400,
      },
      {
        material: 'Bare skin, pain',
        criticalKWm2: 2,
        source: 'invented for this sheet',
        secondsAtWorst: 0.9,
        clearDistanceMm: 6100,
      },
      {
        material: 'Plywood',
        criticalKWm2: 12.7,
        source: 'invented for this sheet',
        secondsAtWorst: 14,
        clearDistanceMm: 2500,
      },
      {
        material: 'Acrylic sheet',
        criticalKWm2: 50,
        source: 'invented for this sheet',
        secondsAtWorst: null,
        clearDistanceMm: 0,
      },
    ],
    findings: findingsOf(lamp),
    variants: rough ? [] : variantsOf(lamp, figures.axialIntensityCd!, relative),
    paths: fakePaths(lamp, emitters, 320),
    forwardBackward: [],
    patterned: false,
    exitsFrom: Math.min(RAYS[state], 524_288),
  }
}
