// WebKit by WebDriver (W3C): the driver and the small browser of Debian's WebKitGTK, on a screen that nobody sees.
import { readdirSync } from 'node:fs'
import { createServer } from 'node:http'
import type { AddressInfo } from 'node:net'
import { join } from 'node:path'
import { clickActions, type Driven, expression, keyActions, outcome } from './driven.ts'
import { installed, start } from './program.ts'

const DRIVER = ['/usr/bin/WebKitWebDriver']
const SCREEN = ['/usr/bin/Xvfb']

/** It comes with the library, in a folder named after version and processor. */
function miniBrowser(): string {
  const folders = readdirSync('/usr/lib', { withFileTypes: true })
    .filter((entry) => entry.isDirectory() && entry.name.includes('-linux-'))
    .flatMap(({ name }) => ['4.1', '6.0', '4.0'].map((v) => join('/usr/lib', name, `webkit2gtk-${v}`, 'MiniBrowser')))
  return installed(folders, 'webkit2gtk-driver')
}

async function freePort(): Promise<number> {
  const server = createServer()
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve))
  const { port } = server.address() as AddressInfo
  await new Promise((resolve) => server.close(resolve))
  return port
}

export async function openWebKit(width: number, height: number): Promise<Driven> {
  const shown = ['-displayfd', '1', '-screen', '0', '1920x1200x24', '-nolisten', 'tcp']
  const screen = await start(installed(SCREEN, 'xvfb'), shown, (heard) => /(\d+)\n/.exec(heard)?.[1])
  const port = await freePort()
  const call = async <T>(method: string, path: string, body?: object): Promise<T> => {
    const sent = body ? { method, body: JSON.stringify(body) } : { method }
    const { value } = (await (await fetch(`http://127.0.0.1:${port}${path}`, sent)).json()) as {
      value: T & { error?: string; message?: string }
    }
    if (value?.error) throw new Error(`${path}: ${value.error} ${value.message}`)
    return value
  }
  const answers = () =>
    call('GET', '/status').then(
      () => 'ready',
      () => null,
    )
  const driver = await start(installed(DRIVER, 'webkit2gtk-driver'), [`--port=${port}`], answers, {
    DISPLAY: `:${screen.at}`,
    LIBGL_ALWAYS_SOFTWARE: '1',
    // Painting by OpenGL in threads of its own crashes software OpenGL now and then (Mesa's swrast).
    WEBKIT_SKIA_ENABLE_CPU_RENDERING: '1',
    NO_AT_BRIDGE: '1',
    // As root, on a build machine, there are no namespaces for it.
    WEBKIT_DISABLE_SANDBOX_THIS_IS_DANGEROUS: '1',
  })
  const options = { binary: miniBrowser(), args: ['--automation'] }
  const { sessionId } = await call<{ sessionId: string }>('POST', '/session', {
    capabilities: { alwaysMatch: { 'webkitgtk:browserOptions': options } },
  })
  const session = `/session/${sessionId}`
  await call('POST', `${session}/window/rect`, { width, height })
  await call('POST', `${session}/timeouts`, { script: 300_000 })
  return {
    goTo: async (url) => void (await call('POST', `${session}/url`, { url })),
    run: async <T>(body: string) => {
      const script = `${expression(body)}.then(arguments[arguments.length - 1])`
      return outcome<T>(await call<string>('POST', `${session}/execute/async`, { script, args: [] }))
    },
    click: async (x, y) => {
      const actions = clickActions(x, y)
      // Its driver fails at times where the page scrolls meanwhile.
      await call('POST', `${session}/actions`, { actions }).catch(() => call('POST', `${session}/actions`, { actions }))
    },
    press: async (keys) => void (await call('POST', `${session}/actions`, { actions: keyActions(keys) })),
    close: async () => {
      await call('DELETE', session).catch(() => {})
      await driver.stop()
      await screen.stop()
    },
  }
}
