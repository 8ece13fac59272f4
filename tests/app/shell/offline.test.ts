import { readFileSync } from 'node:fs'
import { expect, test, vi } from 'vitest'
import { type Container, createOffline, startOffline } from '../../../src/app/shell/offline.ts'
import { settle } from '../../kit/storagePage.ts'

/** A browser's service workers, moved by hand. */
function browser({ controlled }: { controlled: boolean }) {
  const installing = new EventTarget()
  const registration = Object.assign(new EventTarget(), {
    installing,
    waiting: null as { postMessage(message: string): void } | null,
  })
  const container = Object.assign(new EventTarget(), {
    controller: controlled ? {} : null,
    ready: Promise.resolve(registration),
    register: async () => registration,
  })
  const sent: string[] = []
  return {
    container: container as unknown as Container,
    sent,
    /** A newer version has been fetched. */
    newer() {
      registration.dispatchEvent(new Event('updatefound'))
      registration.waiting = { postMessage: (message) => void sent.push(message) }
      installing.dispatchEvent(new Event('statechange'))
    },
    /** Another version serves the page from now on. */
    takesOver() {
      Object.assign(container, { controller: {} })
      container.dispatchEvent(new Event('controllerchange'))
    },
  }
}

async function started(controlled: boolean) {
  const b = browser({ controlled })
  const store = createOffline()
  const reload = vi.fn()
  await startOffline(b.container, store, reload)
  await settle()
  return { b, store, reload }
}

test('a newer version is offered, and loaded only once it is taken', async () => {
  const { b, store, reload } = await started(true)
  expect(store.getState()).toEqual({ isCached: true, takeNewer: null })
  b.newer()
  expect(store.getState().takeNewer).not.toBeNull()
  expect(b.sent).toEqual([])
  store.getState().takeNewer!()
  expect(b.sent).toEqual(['take over'])
  expect(reload).not.toHaveBeenCalled()
  b.takesOver()
  expect(reload).toHaveBeenCalledTimes(1)
})

test('another tab has taken it: this one says so and stays as it is', async () => {
  const { b, store, reload } = await started(true)
  b.takesOver()
  expect(reload).not.toHaveBeenCalled()
  store.getState().takeNewer!()
  expect(reload).toHaveBeenCalledTimes(1)
})

test('the first version of all is no newer one', async () => {
  const { b, store, reload } = await started(false)
  b.takesOver()
  expect(store.getState().takeNewer).toBeNull()
  expect(reload).not.toHaveBeenCalled()
})

test('the manifest’s icons are there, as large as it says', () => {
  const manifest = JSON.parse(readFileSync('public/lampwright.webmanifest', 'utf8'))
  for (const { src, sizes } of manifest.icons) {
    const bytes = readFileSync(`public/${src}`)
    // PNG, third edition, 11.2.1: the header's width and height.
    if (src.endsWith('.png')) expect(`${bytes.readUInt32BE(16)}x${bytes.readUInt32BE(20)}`).toBe(sizes)
  }
  expect(manifest.icons).toHaveLength(4)
})
