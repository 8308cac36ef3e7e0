import { parentPort, workerData } from 'node:worker_threads'
import { join } from 'node:path'
import { databaseFault } from '../adapters/db/database-faults.ts'
import type { DatabaseAnswer, DatabaseQuestion, DatabaseStart } from '../adapters/db/database-messages.ts'
import { openConnections } from '../adapters/db/open-connections.ts'
import { sendError } from '../adapters/db/sent-error.ts'
import { serveDatabase } from '../adapters/db/serve-database.ts'

/** How often the worker looks whether another process has committed something. */
const LOOK_EVERY_MS = 500

const port = parentPort
if (port === null) throw new Error('database.entry.ts is started as a worker only')
const { folder, actor } = workerData as DatabaseStart
const where = join(folder, 'cardwright.sqlite')
const post = (message: DatabaseAnswer) => port.postMessage(message)

try {
  const connections = await openConnections(folder)
  const serve = serveDatabase(connections, actor, where, post)
  const dataVersion = () => connections.writer.handle.pragma('data_version', { simple: true })
  let seen = dataVersion()
  const looking = setInterval(() => {
    // Inside a transaction the number stands still; it is looked at again afterwards.
    if (connections.writer.handle.inTransaction) return
    const now = dataVersion()
    if (now === seen) return
    seen = now
    post({ kind: 'foreign-change' })
  }, LOOK_EVERY_MS)
  port.on('message', (question: DatabaseQuestion) => {
    const answered = serve(question)
    if (question.kind !== 'close') return
    clearInterval(looking)
    void answered.then(() => port.close())
  })
  post({ kind: 'opened' })
} catch (error) {
  post({ kind: 'not-opened', error: sendError(databaseFault(error, where)) })
}
