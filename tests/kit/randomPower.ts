// Random cooling and supplies for the energy account: every kind of sink, air, driver, wiring, supply and step-down.
import type { RetainedLight } from '../../src/electrothermal/result.ts'
import { readLamp } from '../../src/lamp/read.ts'
import type { Cooling, Driver, Lamp, Mode, Power, Supply } from '../../src/lamp/schema.ts'
import { gannetHead } from '../../src/library/demos.ts'
import { hexagonalPlaces } from '../../src/num/places.ts'
import { type Dice, dice } from './randomLamp.ts'

export function randomPowerLamp(seed: number): { lamp: Lamp; kept: RetainedLight | null } {
  const d = dice(seed)
  const base = gannetHead()
  const faceMm = d.between(80, 300)
  const places = hexagonalPlaces(3, 40).filter((p) => Math.hypot(p.xMm, p.yMm) < faceMm / 2 - 10)
  const strings = d.pick([1, 1, 7])
  const boards = places.map((p, i) => ({
    id: `B${i + 1}`,
    type: 'seven',
    ...p,
    turnDeg: d.between(-180, 180),
    currentA: d.between(0.3, 3),
    group: d.pick(['a', 'b']),
  }))
  const lamp: Lamp = {
    ...base,
    face: { ...base.face, shape: d.pick(['round', 'square', 'hexagon']), sizeMm: faceMm },
    boardTypes: base.boardTypes.map((t) => ({ ...t, strings })),
    boards,
    reading: { ...base.reading, ambientC: d.between(-20, 45) },
    cooling: randomCooling(d),
    power: randomPower(d, strings),
  }
  const read = readLamp(lamp)
  if (!read.ok) throw new Error(`randomPowerLamp ${seed}: ${read.why.join(' ')}`)
  const retained = d.chance(0.5)
    ? { face: d.between(0, 0.1), optics: d.between(0, 0.3), wall: d.between(0, 0.4), traced: true }
    : null
  return { lamp: read.lamp, kept: retained }
}

function randomCooling(d: Dice): Cooling {
  return {
    plate: {
      thicknessMm: d.between(0.8, 20),
      metal: d.pick(['aluminium-6061', 'aluminium-6063', 'aluminium-1050', 'copper']),
    },
    sink: d.pick<Cooling['sink']>([
      { kind: 'none' },
      {
        kind: 'fins',
        count: Math.ceil(d.between(1, 30)),
        heightMm: d.between(5, 80),
        thicknessMm: d.between(0.5, 4),
        spacingMm: d.between(2, 15),
      },
      {
        kind: 'pins',
        count: Math.ceil(d.between(4, 200)),
        heightMm: d.between(5, 60),
        diameterMm: d.between(2, 8),
        spacingMm: d.between(3, 12),
      },
      { kind: 'rated', resistanceKW: 0.8, heatCapacityJK: 350, flow: 'forced', maxW: 60 },
    ]),
    air: d.pick<Cooling['air']>([
      { kind: 'still' },
      { kind: 'moved', speedMS: d.between(0.5, 8) },
      {
        kind: 'fan',
        curve: [
          { flowM3h: 0, pascal: 40 },
          { flowM3h: 60, pascal: 25 },
          { flowM3h: 120, pascal: 0 },
        ],
      },
    ]),
    finish: d.pick(['bare', 'anodised', 'painted']),
    aim: d.pick(['level', 'up', 'down']),
  }
}

function randomPower(d: Dice, strings: number): Power {
  const driver = (id: string): Driver => ({
    id,
    name: id,
    kind: strings > 1 ? d.pick(['buck', 'linear', 'buck-boost']) : d.pick(['buck', 'boost', 'buck-boost', 'linear']),
    inputMinV: d.between(3, 12),
    inputMaxV: d.between(40, 80),
    headroomV: d.between(0.2, 3),
    efficiency: d.between(0.8, 0.97),
    maxOutputA: d.between(2, 60),
    dimming: d.pick(['current', 'pulse width']),
  })
  const supply: Supply = d.chance(0.7)
    ? {
        kind: 'pack',
        name: 'pack',
        chemistry: d.pick(['li-ion', 'lifepo4', 'nimh', 'lead-acid']),
        series: Math.ceil(d.between(4, 14)),
        parallel: Math.ceil(d.between(1, 8)),
        cellAh: d.between(1, 5),
        cellMilliohm: d.between(0, 60),
        cellGram: 50,
        maxCellA: 10,
        maxCellC: 70,
        cutOffCellV: d.pick([0.9, 2.5, 3]),
        charged: d.between(0.2, 1),
      }
    : { kind: 'fixed', name: 'fixed', volts: d.between(12, 48), milliohm: d.between(0, 100), maxA: 50 }
  const run = (mm2: number) => ({
    gauge: { system: 'mm2' as const, mm2 },
    lengthMm: d.between(50, 3000),
    connectors: d.pick([0, 1, 3]),
  })
  return {
    drivers: [driver('one'), driver('two')],
    groups: [
      { id: 'a', name: 'A', driver: 'one', wired: 'each' },
      { id: 'b', name: 'B', driver: 'two', wired: d.pick(['each', 'series', 'parallel']) },
    ],
    supply,
    harness: {
      main: { ...run(6), fuse: null },
      channel: { ...run(0.75), fuse: null },
      board: run(0.5),
      connectorMilliohm: d.between(0, 5),
      insulationC: 75,
      allowedDrop: 0.03,
      contactor: d.pick([null, { maxA: 50, milliohm: 1 }]),
    },
    modes: [0.1, 1].map(
      (share, i): Mode => ({
        id: `m${i}`,
        name: `M${i}`,
        share,
        stepDown: d.pick<Mode['stepDown']>([
          null,
          { watch: 'plate', atC: 70, toShare: 0.4 },
          { watch: 'junction', atC: 90, toShare: 0.4 },
          { watch: 'time', afterS: 30, toShare: 0.5 },
        ]),
      }),
    ),
  }
}
