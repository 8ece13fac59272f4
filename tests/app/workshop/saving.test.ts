// What the page says of a file that was asked for.
import { expect, test } from 'vitest'
import { workshop } from '../../../src/app/store/workshop.ts'
import { saving } from '../../../src/app/workshop/saving.ts'
import { Cancelled } from '../../../src/num/scheduler.ts'

test('a file: being made, then saved', async () => {
  let finish = () => {}
  const made = saving('a.dxf', () => new Promise<void>((resolve) => (finish = resolve)))
  expect(workshop.getState().saved).toEqual({ file: 'a.dxf', state: 'making', words: 'a.dxf is being made…' })
  finish()
  await made
  expect(workshop.getState().saved).toEqual({ file: 'a.dxf', state: 'saved', words: 'a.dxf has been saved.' })
})

test('a file that could not be made says why', async () => {
  await saving('a.pdf', () => Promise.reject(new Error('its font is not there')))
  expect(workshop.getState().saved).toEqual({
    file: 'a.pdf',
    state: 'failed',
    words: 'a.pdf could not be made: its font is not there',
  })
})

test('what it has to say of a file stands behind it; a file that was stopped is no failure', async () => {
  await saving('a.tm25ray', async (name) => `${name} holds 7 rays.`)
  expect(workshop.getState().saved?.words).toBe('a.tm25ray has been saved. a.tm25ray holds 7 rays.')
  await saving('a.tm25ray', () => Promise.reject(new Cancelled()))
  expect(workshop.getState().saved).toMatchObject({
    state: 'stopped',
    words: 'a.tm25ray was stopped; nothing is saved.',
  })
})
