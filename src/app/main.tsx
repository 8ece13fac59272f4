// Wires the page: keys, dropped files, the drawer, the trace.
import { createRoot } from 'react-dom/client'
import './theme.css'
import { openTracingClient } from '../job/service/client.ts'
import { gannetHead } from '../library/demos.ts'
import { listenForKeys } from './actions/keys.ts'
import { ACTS } from './shell/actions.ts'
import { dangerReading } from './shell/danger.ts'
import { engineAsked } from './shell/engineOption.ts'
import { listenForDrops } from './shell/files.ts'
import { drawer, page, shell, takeFile } from './shell/page.ts'
import { startPower } from './shell/power.ts'
import { Shell } from './shell/Shell.tsx'
import { sweeping } from './shell/sweep.ts'
import { tracing } from './shell/tracing.ts'
import { design } from './store/stores.ts'

listenForKeys(ACTS, page)
listenForDrops((dropping) => shell.setState({ dropping }), takeFile)
drawer.start(gannetHead).then(() => {
  tracing.start(() => openTracingClient(engineAsked(location.search)))
  startPower()
})
sweeping.start()
dangerReading.start()
window.addEventListener('pagehide', () => drawer.keep())
document.addEventListener('visibilitychange', () => {
  if (document.visibilityState === 'hidden') drawer.keep()
})
// The lamp's name in the tab, and at the head of a printed sheet.
design.store.subscribe(({ lamp }) => {
  document.title = `${lamp.name} · Lampwright`
})
createRoot(document.getElementById('root')!).render(<Shell />)
