// Many lamps within tolerances: a run that goes on after a reload, and what is read from one that has ended.
import { expect, test, vi } from 'vitest'
import { benchCheck } from '../../src/library/demos.ts'
import { axe, openLamp, rest } from './hands.ts'
import { chromiumPages } from './harness.ts'

vi.setConfig({ testTimeout: 300_000 })
const open = chromiumPages()

test('lamps come, go on after a reload, and are read: both ± side by side, shares, what to hold tighter', async () => {
  const page = await open({ untraced: true })
  await openLamp(page, benchCheck())
  await rest(page)
  await page.locator('body').press('j')
  const panel = page.getByRole('region', { name: 'Tolerances' })
  await panel.getByRole('switch', { name: 'Board places' }).focus()
  await page.keyboard.press('Space')
  await panel.getByText(/^415 lamps, built at random/).waitFor()
  await panel.getByRole('button', { name: 'Build and trace' }).click()
  await panel.getByText(/^[1-9]\d* of 415 lamps/).waitFor({ timeout: 120_000 })
  await page.reload()
  await panel.getByText(/^[1-9]\d* of 415 lamps/).waitFor({ timeout: 120_000 })
  await panel.getByRole('button', { name: 'Stop', exact: true }).click()
  await panel.getByText(/^Stopped after \d+ of 415 lamps/).waitFor()

  // The rest as if it had come: by formula, since tracing all would take minutes.
  await expect.poll(() => page.evaluate(fillStoredRun)).toBe(1)
  await page.reload()
  await panel.getByText('415 lamps built and traced').waitFor()
  await panel.getByText(/^Hold flux bin to ±\u202f3\.5\u202f%\./).waitFor()
  const row = panel.getByRole('row', { name: /^Flux out/ })
  expect(await row.textContent()).toMatch(/^Flux out200(\.\d+)? ± 0\.\d+\u202flm± \d+\u202flm1\d\d/)
  await panel.getByRole('button', { name: 'Flux out', exact: true }).click()
  await panel.getByRole('heading', { name: 'Flux out: where the spread comes from' }).waitFor()
  await panel.getByText('12 of 415 lamps have a severe finding that the drawn one hasn’t,').waitFor()
  await page
    .getByRole('complementary', { name: 'Beam sheet' })
    .getByText(/^built ± /)
    .first()
    .waitFor()
  expect(await axe(page)).toEqual([])
})

/** Gives the stored run all its lamps; how many runs there were. Runs in the page. */
async function fillStoredRun(): Promise<number> {
  const opened = indexedDB.open('lampwright-runs')
  const db = await new Promise<IDBDatabase>((done) => {
    opened.onsuccess = () => done(opened.result)
  })
  const store = db.transaction('runs', 'readwrite').objectStore('runs')
  const lamp = (index: number) => {
    const [row, column] = [Math.floor((index - 1) / 9), (index - 1) % 9]
    // The flux bin is the fifth of seven: columns A, B, then one for each.
    const ofB = column === 1 || column === 6
    const lm = index === 0 ? 200 : 200 * (1 + 0.1 * Math.sin((ofB ? 7.1 : 3.3) * (row + 1)))
    const severe = index > 0 && index % 34 === 0 ? [{ rule: 'hot', title: 'Hot.' }] : []
    return {
      index,
      figures: { fluxOutLm: [lm, 0.1, lm * 1.0001, 0.1], axialIntensityCd: [1e4 * lm, 50, 1e4 * lm, 50] },
      severe,
      why: null,
    }
  }
  const keys = await new Promise<IDBValidKey[]>((done) => {
    const request = store.getAllKeys()
    request.onsuccess = () => done(request.result)
  })
  const readings = Array.from({ length: 415 }, (_, index) => lamp(index))
  const runs = keys.map(String).filter((key) => key.startsWith('run:'))
  for (const key of runs) {
    store.put({ head: { at: Date.now(), lamps: 420, running: false }, count: readings.length }, key)
    // As src/app/store/growingList.ts keeps them.
    for (let row = 0; 64 * row < readings.length; row++)
      store.put(readings.slice(64 * row, 64 * (row + 1)), `row:${key} ${row}`)
  }
  await new Promise((done) => {
    store.transaction.oncomplete = done
  })
  db.close()
  return runs.length
}
