// Firefox by WebDriver BiDi (W3C), which Debian's package speaks by itself.
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { WebSocket } from 'ws'
import { clickActions, type Driven, expression, keyActions, outcome } from './driven.ts'
import { installed, start } from './program.ts'

const PATHS = [process.env['FIREFOX'] ?? '', '/usr/bin/firefox-esr', '/usr/bin/firefox']
/** No first pages, no looking for updates. */
const PREFERENCES = [
  'browser.shell.checkDefaultBrowser',
  'app.update.enabled',
  'datareporting.policy.dataSubmissionEnabled',
]

type Answer = {
  id: number
  type: 'success' | 'error'
  result?: Record<string, unknown>
  error?: string
  message?: string
}

export async function openFirefox(width: number, height: number): Promise<Driven> {
  const profile = mkdtempSync(join(tmpdir(), 'firefox-'))
  writeFileSync(join(profile, 'user.js'), PREFERENCES.map((name) => `user_pref("${name}", false);\n`).join(''))
  const args = ['--headless', '--no-remote', '--profile', profile, '--remote-debugging-port', '0']
  const listening = (heard: string) => /WebDriver BiDi listening on (ws:\S+)/.exec(heard)?.[1]
  const firefox = await start(installed(PATHS, 'firefox-esr'), args, listening)
  const socket = new WebSocket(`${firefox.at}/session`)
  const waiting = new Map<number, (answer: Answer) => void>()
  socket.on('message', (data) => {
    const answer = JSON.parse(String(data)) as Answer
    waiting.get(answer.id)?.(answer)
  })
  await new Promise((resolve, reject) => socket.once('open', resolve).once('error', reject))
  let calls = 0
  const call = async (method: string, params: object): Promise<Record<string, unknown>> => {
    const id = ++calls
    const answer = await new Promise<Answer>((resolve) => {
      waiting.set(id, resolve)
      socket.send(JSON.stringify({ id, method, params }))
    })
    waiting.delete(id)
    if (answer.type === 'error') throw new Error(`${method}: ${answer.error} ${answer.message}`)
    return answer.result ?? {}
  }
  await call('session.new', { capabilities: {} })
  const { contexts } = (await call('browsingContext.getTree', {})) as { contexts: { context: string }[] }
  const context = contexts[0]!.context
  await call('browsingContext.setViewport', { context, viewport: { width, height } })
  return {
    goTo: async (url) => void (await call('browsingContext.navigate', { context, url, wait: 'complete' })),
    run: async <T>(body: string) => {
      const answer = await call('script.evaluate', {
        expression: expression(body),
        target: { context },
        awaitPromise: true,
      })
      return outcome<T>((answer['result'] as { value: string }).value)
    },
    click: async (x, y) => void (await call('input.performActions', { context, actions: clickActions(x, y) })),
    press: async (keys) => void (await call('input.performActions', { context, actions: keyActions(keys) })),
    close: async () => {
      socket.close()
      await firefox.stop()
      rmSync(profile, { recursive: true, force: true, maxRetries: 5 })
    },
  }
}
