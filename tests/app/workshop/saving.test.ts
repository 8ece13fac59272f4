// What the page says of a file that was asked for.
import { expect, test } from 'vitest'
import { workshop } from '../../../src/app/store/workshop.ts'
import { saving } from '../../../src/app/workshop/saving.ts'

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
