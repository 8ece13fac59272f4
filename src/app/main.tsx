// Starts the page: keys, dropped files, stored lamps, the trace.
import { createRoot } from 'react-dom/client'
import './theme.css'
import './ui/slide.css'
import { openTracingClient } from '../job/service/client.ts'
import { gannetHead } from '../library/demos.ts'
import { listenForKeys } from './actions/keys.ts'
import { ACTIONS } from './shell/actions.ts'
import { followAddress } from './shell/address.ts'
import { compareRunner, takeDropped } from './shell/compare.ts'
import { dangerReader } from './shell/danger.ts'
import { parseEngineOptions } from './shell/engineOptions.ts'
import { listenForDrops } from './shell/files.ts'
import { followLinks } from './shell/link.ts'
import { offline, startOffline } from './shell/offline.ts'
import { optimizeRunner } from './shell/optimize.ts'
import { keepOwnWords } from './shell/ownWords.ts'
import { followPrinting } from './shell/PrintedPage.tsx'
import { page, shell, storage } from './shell/page.ts'
import { followColumns, keepOnePanelOpen } from './shell/panels.ts'
import { startPower } from './shell/power.ts'
import { readingsRunner } from './shell/readings.ts'
import { Shell } from './shell/Shell.tsx'
import { sweepRunner } from './shell/sweep.ts'
import { toleranceRunner } from './shell/tolerances.ts'
import { tracing } from './shell/tracing.ts'
import { showDisplay } from './store/display.ts'
import { design } from './store/stores.ts'

keepOwnWords()
showDisplay(document.documentElement)
listenForKeys(ACTIONS, page)
listenForDrops((dropping) => shell.setState({ dropping }), takeDropped)
storage.start(gannetHead).then(() => {
  tracing.start((onTrouble) => openTracingClient(parseEngineOptions(location.search), onTrouble))
  startPower()
  toleranceRunner.start()
  optimizeRunner.start()
  sweepRunner.start()
  followLinks(window)
})
keepOnePanelOpen()
followColumns()
readingsRunner.start()
compareRunner.start()
dangerReader.start()
followAddress(window)
followPrinting()
window.addEventListener('pagehide', storage.leave)
document.addEventListener('visibilitychange', () => {
  if (document.visibilityState === 'hidden') storage.flush()
})
// The lamp's name in the browser tab and at the head of a printed sheet.
design.store.subscribe(({ lamp }) => {
  document.title = `${lamp.name} · Lampwright`
})
// Once the page is there: what it fetches then would only be in the way before.
window.addEventListener('load', () => {
  if (import.meta.env.PROD && 'serviceWorker' in navigator)
    startOffline(navigator.serviceWorker, offline, () => location.reload()).catch(() => {})
})
createRoot(document.getElementById('root')!).render(<Shell />)
