// Loaded ahead of the program (node --require): of the worker threads that it starts, the first DYING_THREADS end at their third message.
const threads = require('node:worker_threads')
const { syncBuiltinESMExports } = require('node:module')

if (threads.isMainThread) {
  let mortal = Number(process.env.DYING_THREADS)
  threads.Worker = class extends threads.Worker {
    messages = 0
    dies = mortal-- > 0
    postMessage(message, transfer) {
      super.postMessage(message, transfer)
      if (this.dies && ++this.messages === 3) this.terminate()
    }
  }
  syncBuiltinESMExports()
}
