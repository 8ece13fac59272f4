// Names that every object inherits are names like any other: they find what is there under them, and nothing where nothing is.
import { expect, test } from 'vitest'
import { parseQuantity } from '../../src/app/common/units.ts'
import { withChannelLength, withGroupA } from '../../src/app/parts/powerEdits.ts'
import { makeModel, wantedA } from '../../src/electrothermal/model.ts'
import { readFlicker } from '../../src/hazard/flicker.ts'
import { readLampText, writeLampText } from '../../src/lamp/read.ts'
import type { Lamp } from '../../src/lamp/schema.ts'
import { gannetHead } from '../../src/library/demos.ts'
import { powerOf } from '../../src/library/typicalPower.ts'
import { channelsOf } from '../../src/power/channels.ts'

const NAMES = ['constructor', 'hasOwnProperty', '__proto__', 'toString', 'valueOf']

/** An example whose first group, board, mode, emitter, optic and board type bear the name. */
function named(name: string): Lamp {
  const base = gannetHead()
  const { value } = powerOf(base)
  const old = value.groups[0]!.id
  const text = JSON.stringify({ ...base, power: value }, (key, x) =>
    key === 'group' && x === old ? name : key === 'groupA' || key === 'channelLengthMm' ? undefined : x,
  )
  const lamp = JSON.parse(text) as Lamp
  const { power } = lamp
  if (!power) throw new Error('no power')
  power.groups[0]!.id = name
  power.modes[0]!.id = name
  lamp.boards[0]!.id = name
  delete lamp.boards[0]!.group
  // Entries there are, but under another name.
  power.drivers.push({ ...power.drivers[0]!, id: 'z', dimming: 'current' })
  power.groups.push({ ...power.groups[0]!, id: 'z', driver: 'z' })
  power.modes[0]!.groupA = { z: 1 }
  power.harness.channelLengthMm = { z: 5 }
  return lamp
}

/** Written and read again, as a file would be. */
function reread(lamp: Lamp): Lamp {
  const read = readLampText(writeLampText(lamp))
  if (!read.ok) throw new Error(read.why.join(' '))
  return read.lamp
}

test.each(NAMES)('a group, mode and board called %s, with no entry under that name', (name) => {
  const lamp = reread(named(name))
  const power = lamp.power!
  const model = makeModel(lamp, null)
  expect(wantedA(model.boards[0]!, power.modes[0]!, 1)).toBe(power.modes[0]!.share * lamp.boards[0]!.currentA)
  expect(channelsOf(lamp, power).every((c) => c.lengthMm === power.harness.channel.lengthMm)).toBe(true)
  const pulsed = { ...power, drivers: [{ ...power.drivers[0]!, dimming: 'pulse width' as const }] }
  const full = [{ ...power.modes[0]!, share: 1, stepDown: null }]
  expect(readFlicker({ ...lamp, power: { ...pulsed, modes: full } })).toEqual([])
})

test.each(NAMES)('a current and a length under the name %s survive writing, reading and edits', (name) => {
  const lamp = named(name)
  const withLength = withChannelLength(withGroupA(lamp.power!, name, name, 1.25), name, 777)
  const power = reread({ ...lamp, power: withLength }).power!
  const model = makeModel({ ...lamp, power }, null)
  expect(wantedA(model.boards[0]!, power.modes[0]!, 1)).toBe(1.25)
  const own = channelsOf(lamp, power).filter((c) => c.id === name)
  expect(own.map((c) => c.lengthMm)).toEqual([777])
  const without = withChannelLength(withGroupA(power, name, name, null), name, null)
  expect(without.modes[0]!.groupA).toEqual({ z: 1 })
  expect(without.harness.channelLengthMm).toEqual({ z: 5 })
})

test('what does not fit under such a name is said like any other', () => {
  const text = writeLampText(named('__proto__'))
  const json = JSON.parse(text) as { power: { modes: object[] } }
  Object.assign(json.power.modes[0]!, { groupA: JSON.parse('{"z": 1, "__proto__": 201}') })
  expect(readLampText(JSON.stringify(json))).toEqual({
    ok: false,
    why: ['power.modes[0].groupA.__proto__: 201 does not fit; expected at most 200.'],
  })
})

test('a group that is not there is a sentence, whatever its name', () => {
  for (const name of [...NAMES, 'left']) {
    const lamp = named('a')
    lamp.boards[0]!.group = name
    expect(readLampText(JSON.stringify(lamp))).toMatchObject({ ok: false, why: [expect.stringContaining('no group')] })
    const { power: _, ...bare } = lamp
    expect(readLampText(JSON.stringify({ ...bare, boards: lamp.boards.slice(0, 1) }))).toEqual({
      ok: false,
      why: ['boards[0].group: the lamp has no power entry, so no groups.'],
    })
  }
})

test('no unit is called like what objects inherit', () => {
  for (const name of ['constructor', 'valueOf'])
    expect(parseQuantity(`5 ${name}`, 'mm')).toEqual({
      ok: false,
      why: `“${name}” is no unit for this field; it takes mm, cm, m, in, ft or thou.`,
    })
})
