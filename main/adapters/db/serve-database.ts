import { setTimeout as pause } from 'node:timers/promises'
import { AppError } from '../../../app/errors/app-error.ts'
import { scanWrites } from './apply-scan.ts'
import { busy, databaseFault, isBusy } from './database-faults.ts'
import type { DatabaseAnswer, DatabaseQuestion, DatabaseStart, Repository } from './database-messages.ts'
import { libraryReads } from './library-reads.ts'
import { libraryWrites } from './library-writes.ts'
import type { Connections } from './open-connections.ts'
import { preparationReads } from './preparation-reads.ts'
import { preparationWrites } from './preparation-writes.ts'
import { recordsReads } from './records-reads.ts'
import { recordsWrites } from './records-writes.ts'
import { sendError } from './sent-error.ts'
import { writeContext, type Stamp } from './write-context.ts'

const BEGIN_AGAIN_AFTER_MS = 20

type Method = (...args: readonly unknown[]) => unknown
type Methods = Readonly<Partial<Record<Repository, Readonly<Record<string, Method>>>>>
type Call = Pick<DatabaseQuestion & { kind: 'read' }, 'of' | 'method' | 'args'>
interface Result {
  readonly value: unknown
  readonly streamed: boolean
}

/**
 * Answers questions on the two connections. Reads go in one lane and the transaction in another, each
 * strictly one after the other: a read waits for no transaction, and is one snapshot however many
 * statements it takes. Everything is answered, whatever it throws.
 */
export function serveDatabase(
  connections: Connections,
  { actor, busyWaitMs, folder }: DatabaseStart,
  answer: (message: DatabaseAnswer) => void,
): (question: DatabaseQuestion) => Promise<void> {
  const { reader, writer } = connections
  let stamp: Stamp = { at: '', ids: [] }
  const context = writeContext(writer, actor, () => stamp)
  const reading: Methods = {
    library: own(libraryReads(reader)),
    records: own(recordsReads(reader)),
    preparation: own(preparationReads(reader)),
  }
  const writing: Methods = {
    library: own(libraryReads(writer), libraryWrites(context)),
    records: own(recordsReads(writer), recordsWrites(context)),
    preparation: own(preparationReads(writer), preparationWrites(context)),
    scan: own(scanWrites(context)),
  }
  /** Set once a call stopped half-way: what the transaction holds must not be committed. */
  let spoilt: unknown
  /** By question: what goes on once its last part was taken in. */
  const partsTaken = new Map<number, () => void>()
  let readLane: Promise<unknown> = Promise.resolve()
  let writeLane: Promise<unknown> = Promise.resolve()

  return (question) => {
    if (question.kind === 'taken') {
      partsTaken.get(question.id)?.()
      return Promise.resolve()
    }
    const answered = (lane: Promise<unknown>) => lane.then(() => answerQuestion(question))
    if (question.kind === 'read') return (readLane = answered(readLane)) as Promise<void>
    return (writeLane = answered(writeLane)) as Promise<void>
  }

  async function answerQuestion(question: DatabaseQuestion): Promise<void> {
    try {
      answer({ id: question.id, kind: 'done', ...(await resultOf(question)) })
    } catch (error) {
      answer({ id: question.id, kind: 'failed', error: sendError(databaseFault(error, folder)) })
    }
  }

  async function resultOf(question: DatabaseQuestion): Promise<Result> {
    switch (question.kind) {
      case 'read':
        return read(question)
      case 'inside':
        return inside(question)
      case 'begin':
        await begin()
        break
      case 'commit':
        commit()
        break
      case 'rollback':
        rollback()
        break
      case 'taken':
        break
      case 'close':
        await readLane
        rollback()
        connections.close()
    }
    return { value: undefined, streamed: false }
  }

  async function read(question: DatabaseQuestion & { kind: 'read' }): Promise<Result> {
    reader.handle.exec('BEGIN')
    try {
      const result = await run(reading, question, question.id)
      reader.handle.exec('COMMIT')
      return result
    } finally {
      // One that stays open would refuse every read after it.
      if (reader.handle.inTransaction) reader.handle.exec('ROLLBACK')
    }
  }

  /** Asks for the write lock again and again instead of blocking the thread, which has reads to serve. */
  async function begin(): Promise<void> {
    spoilt = undefined
    const lastTryAt = performance.now() + busyWaitMs
    for (;;) {
      try {
        writer.handle.exec('BEGIN IMMEDIATE')
        return
      } catch (error) {
        if (!isBusy(error)) throw error
        if (performance.now() > lastTryAt) throw busy(folder, error)
        await pause(BEGIN_AGAIN_AFTER_MS)
      }
    }
  }

  async function inside(question: DatabaseQuestion & { kind: 'inside' }): Promise<Result> {
    // SQLite may have rolled back by itself, where the disk is full or broken.
    if (!writer.handle.inTransaction) throw spoilt ?? new RangeError(`${question.method} has no transaction`)
    stamp = question.stamp
    try {
      return await run(writing, question, question.id)
    } catch (error) {
      // Writers refuse before they write; whatever else stops one may have stopped it half-way.
      if (!(error instanceof AppError)) spoilt ??= error
      throw error
    }
  }

  function commit(): void {
    try {
      if (spoilt !== undefined) throw spoilt
      writer.handle.exec('COMMIT')
    } catch (error) {
      rollback()
      throw error
    }
  }

  function rollback(): void {
    if (writer.handle.inTransaction) writer.handle.exec('ROLLBACK')
  }

  async function run(methods: Methods, { of, method, args }: Call, id: number): Promise<Result> {
    const called = methods[of]?.[method]
    if (called === undefined) throw new RangeError(`the database knows no ${of}.${method}`)
    const result = await called(...args)
    if (!isStream(result)) return { value: result, streamed: false }
    for await (const part of result) await sendPart(id, part as readonly unknown[])
    return { value: undefined, streamed: true }
  }

  /** One part is on its way at a time: many at once would hold up whoever takes them in. */
  function sendPart(id: number, part: readonly unknown[]): Promise<void> {
    return new Promise((resolve) => {
      partsTaken.set(id, () => {
        partsTaken.delete(id)
        resolve()
      })
      answer({ id, kind: 'part', part })
    })
  }
}

/** Methods by name, nothing inherited: names come in messages. */
function own(...repositories: readonly object[]): Readonly<Record<string, Method>> {
  return Object.assign(Object.create(null) as Record<string, Method>, ...repositories) as Record<
    string,
    Method
  >
}

function isStream(value: unknown): value is AsyncIterable<unknown> {
  return typeof value === 'object' && value !== null && Symbol.asyncIterator in value
}
