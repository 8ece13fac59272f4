// Lamps whose power settings stand at the ends of what the schema permits.
import { readLamp } from '../../src/lamp/read.ts'
import type { Driver, Harness, Lamp, Mode, Supply } from '../../src/lamp/schema.ts'
import { type Dice, dice } from './randomLamp.ts'
import { randomPowerLamp } from './randomPower.ts'

export function extremePowerLamp(seed: number): Lamp {
  const { lamp } = randomPowerLamp(seed)
  const { power } = lamp
  if (!power) throw new Error(`extremePowerLamp ${seed}: no power`)
  const d = dice(seed + 7919)
  const read = readLamp({
    ...lamp,
    emitterTypes: lamp.emitterTypes.map((e) => ({
      ...e,
      maxCurrentA: d.pick([0.001, 200, e.maxCurrentA]),
      forward: d.pick([
        e.forward,
        [{ currentA: 0, volts: 0 }],
        [
          { currentA: 0, volts: 0 },
          { currentA: 0.001, volts: 1000 },
        ],
      ]),
    })),
    power: {
      ...power,
      drivers: power.drivers.map((x) => extremeDriver(d, x)),
      supply: extremeSupply(d, power.supply),
      harness: extremeHarness(d, power.harness),
      modes: power.modes.map((m): Mode => {
        const own = d.pick([0, 200])
        return { ...m, share: d.pick([0, 1, 10]), ...(d.chance(0.5) ? { groupA: { a: own } } : {}) }
      }),
      coldestC: d.pick([-80, 60]),
    },
  })
  if (!read.ok) throw new Error(`extremePowerLamp ${seed}: ${read.why.join(' ')}`)
  return read.lamp
}

const extremeDriver = (d: Dice, driver: Driver): Driver => ({
  ...driver,
  inputMinV: d.pick([0.5, 20, 999]),
  inputMaxV: 1000,
  headroomV: d.pick([0, 100]),
  efficiency: d.pick([0.3, 1]),
  maxOutputA: d.pick([0.01, 1000]),
  inputMicrofarad: d.pick([0, 1_000_000]),
})

const extremeSupply = (d: Dice, supply: Supply): Supply =>
  supply.kind === 'fixed'
    ? { ...supply, volts: d.pick([0.5, 1000]), milliohm: d.pick([0, 100_000]), maxA: d.pick([0.01, 10_000]) }
    : {
        ...supply,
        series: d.pick([1, 400]),
        parallel: d.pick([1, 1000]),
        cellAh: d.pick([0.05, 1000]),
        cellMilliohm: d.pick([0, 1000]),
        maxCellA: d.pick([0.01, 10_000]),
        cutOffCellV: d.pick([0.5, 4]),
      }

function extremeHarness(d: Dice, harness: Harness): Harness {
  const run = (): Harness['board'] => ({
    gauge: d.pick<Harness['board']['gauge']>([
      { system: 'awg', number: -3 },
      { system: 'awg', number: 40 },
      { system: 'mm2', mm2: 0.02 },
      { system: 'mm2', mm2: 500 },
    ]),
    lengthMm: d.pick([0, 1, 100_000]),
    connectors: d.pick([0, 50]),
    ...(d.chance(0.3) ? { bundled: d.pick([2, 400]) } : {}),
    ...(d.chance(0.3) ? { insulationC: d.pick([60, 300]) } : {}),
  })
  const fuse = () => d.pick([null, { amps: 0.05, volts: 1 }, { amps: 2000, volts: 2000 }])
  return {
    ...harness,
    main: { ...run(), fuse: fuse() },
    channel: { ...run(), fuse: fuse() },
    board: run(),
    connectorMilliohm: d.pick([0, 1000]),
    contactor: d.pick<Harness['contactor']>([
      null,
      { maxA: 0.1, milliohm: 1000, prechargeOhm: 0.1 },
      { maxA: 5000, milliohm: 0, makesA: 0.1 },
    ]),
  }
}
