// The page without a network: what the service worker (scripts/offline) keeps of it, and a newer version that waits to be taken.
import { useStore } from 'zustand'
import { createStore } from 'zustand/vanilla'

interface OfflineState {
  /** All of the page is in this browser. */
  isCached: boolean
  /** Loads the newer version that is there; null: there is none. Nothing is loaded anew by itself. */
  takeNewer: (() => void) | null
}

export const createOffline = () => createStore<OfflineState>()(() => ({ isCached: false, takeNewer: null }))
type Offline = ReturnType<typeof createOffline>
export const offline = createOffline()
export const useOffline = <T>(pick: (s: OfflineState) => T): T => useStore(offline, pick)

/** As `navigator.serviceWorker`. */
export type Container = Pick<ServiceWorkerContainer, 'controller' | 'ready' | 'register' | 'addEventListener'>

/** Rejects where the browser refuses; the page then needs its server as before. */
export async function startOffline(container: Container, store: Offline, reload: () => void): Promise<void> {
  /** This page asked for the newer version. */
  let isRequested = false
  const hadVersion = container.controller !== null
  container.addEventListener('controllerchange', () => {
    if (isRequested) reload()
    else if (hadVersion) store.setState({ takeNewer: reload }) // another tab has taken it
  })
  const registration = await container.register('service-worker.js', { updateViaCache: 'none' })
  const offer = () => {
    const { waiting } = registration
    if (!waiting || !container.controller) return
    store.setState({
      takeNewer: () => {
        isRequested = true
        waiting.postMessage('take over')
      },
    })
  }
  offer()
  registration.addEventListener('updatefound', () => {
    registration.installing?.addEventListener('statechange', offer)
  })
  await container.ready
  store.setState({ isCached: true })
}
