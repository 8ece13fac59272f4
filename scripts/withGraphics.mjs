// node scripts/withGraphics.mjs COMMAND ...: run it where WebGPU finds a device. A machine's own driver comes first; without one, the software
// driver that Chromium brings. Both the driver and the loader must be named before the process starts.
import { spawn } from 'node:child_process'
import { existsSync, readdirSync } from 'node:fs'
import { delimiter, dirname, join } from 'node:path'
import { fileURLToPath } from 'node:url'

const SOFTWARE = ['/usr/lib/chromium', '/usr/lib/chromium-browser', '/opt/google/chrome']
const DRIVERS = ['/usr/share/vulkan/icd.d', '/etc/vulkan/icd.d']

// What is tested must not depend on what else a test machine has.
const own = !process.env.CI && DRIVERS.some((folder) => existsSync(folder) && readdirSync(folder).length > 0)
const env = { ...process.env }
const folder = SOFTWARE.find((path) => existsSync(join(path, 'vk_swiftshader_icd.json')))
if (process.platform === 'linux' && folder && !env.VK_DRIVER_FILES && !own) {
  env.VK_DRIVER_FILES = join(folder, 'vk_swiftshader_icd.json')
  env.LD_LIBRARY_PATH = [env.LD_LIBRARY_PATH, folder].filter(Boolean).join(delimiter)
}
const bin = join(dirname(dirname(fileURLToPath(import.meta.url))), 'node_modules/.bin')
env.PATH = [bin, env.PATH].join(delimiter)

const [command, ...rest] = process.argv.slice(2)
spawn(command, rest, { env, stdio: 'inherit' }).on('exit', (code, signal) => process.exit(signal ? 1 : code))
