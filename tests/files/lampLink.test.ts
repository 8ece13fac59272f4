import { deflateRawSync, inflateRawSync } from 'node:zlib'
import { expect, test } from 'vitest'
import { packLamp, unpackLamp } from '../../src/files/lampLink.ts'
import { DEMOS } from '../../src/library/demos.ts'

const linked = (text: string) => `1.${deflateRawSync(text).toString('base64url')}`
const why = async (packed: string) => {
  const read = await unpackLamp(packed)
  return read.ok ? 'a lamp' : read.why.join(' ')
}

test.each(Object.entries(DEMOS))('%s: through a link and back it is the same lamp', async (_, make) => {
  const packed = await packLamp(make())
  expect(packed).toMatch(/^[\w.-]+$/) // no letter that an address would escape
  expect(new URLSearchParams(`lamp=${packed}`).get('lamp')).toBe(packed)
  expect(await unpackLamp(packed)).toEqual({ ok: true, lamp: make() })
})

test('Node’s own deflate and base64url read it and write it', async () => {
  const lamp = DEMOS['gannet-head']!()
  const packed = await packLamp(lamp)
  expect(JSON.parse(inflateRawSync(Buffer.from(packed.slice(2), 'base64url')).toString())).toEqual(lamp)
  expect(await unpackLamp(linked(JSON.stringify(lamp)))).toEqual({ ok: true, lamp })
})

test('a link of the demo is no longer than a message may be in most programs', async () => {
  expect((await packLamp(DEMOS['gannet-head']!())).length).toBeLessThan(4000)
})

test('faults in words', async () => {
  const packed = await packLamp(DEMOS['gannet-head']!())
  expect(await why(packed.slice(0, -40))).toContain('cut off or changed')
  expect(await why('1.')).toContain('cut off or changed')
  expect(await why('1.!?')).toContain('cut off or changed')
  expect(await why('2.AAAA')).toContain('newer version')
  expect(await why('')).toContain('no lamp')
  expect(await why(linked('{"kind":"lamp"'))).toMatch(/JSON|line|end/i)
  const lamp = { ...DEMOS['gannet-head']!(), margin: 1 }
  expect(await why(linked(JSON.stringify(lamp)))).toContain('margin: no such entry')
})

test('few letters that inflate to a flood are refused', async () => {
  expect(await why(`1.${deflateRawSync(Buffer.alloc(65 * 1024 * 1024)).toString('base64url')}`)).toContain('too large')
})
