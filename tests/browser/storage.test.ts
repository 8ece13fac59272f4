// The browser's own storage: one that never answers, and two tabs with the same lamp.
import { expect, test } from 'vitest'
import { lampName } from './hands.ts'
import { chromiumPages } from './harness.ts'

const open = chromiumPages()

test('a database that never answers does not stop the page, which says that nothing is kept', async () => {
  const page = await open({
    idle: true,
    async before(p) {
      await p.addInitScript(() => {
        IDBFactory.prototype.open = () => new EventTarget() as IDBOpenDBRequest
        const later = window.setTimeout
        // The time limit of a call.
        window.setTimeout = ((run: () => void, ms?: number) => later(run, ms === 3_000 ? 20 : ms)) as typeof setTimeout
      })
    },
  })
  expect(await lampName(page).inputValue()).toBe('Gannet Head')
  await page.getByText('This browser’s storage does not answer: nothing is saved automatically.').waitFor()
  expect(await page.getByText('Saved automatically in this browser').count()).toBe(0)
})

test('two tabs with one lamp: both works are kept, and the later one says so', async () => {
  const first = await open({ idle: true })
  await first.getByText('Saved automatically in this browser').waitFor()
  const address = first.url()
  const second = await first.context().newPage()
  await second.goto(address)
  await second.getByText('Saved automatically in this browser').waitFor()
  await lampName(first).fill('From the first tab')
  await lampName(first).press('Enter')
  await first.getByRole('button', { name: 'Earlier' }).click()
  await first.getByRole('dialog').getByText('Name of the lamp').waitFor()
  await lampName(second).fill('From the second tab')
  await lampName(second).press('Enter')
  const words =
    '“From the first tab” was also changed in another tab. Both are kept: what you made here is now “From the second tab, copy”.'
  await second.getByRole('status').getByText(words).waitFor()
  await second.reload()
  await second.getByRole('button', { name: 'Lamps stored in this browser: 2' }).click()
  const lamps = second.getByRole('dialog')
  await lamps.getByText('From the first tab').waitFor()
  await lamps.getByText('From the second tab, copy').waitFor()
})
