import { useState } from 'react'
import { useLocation } from 'wouter'
import type { AppError } from '../../../app/errors/app-error.ts'
import { useChange, type ChangeRequest, type ChangeResponse } from '../../hooks/use-change.ts'

type AddName = 'builds:add' | 'creators:add' | 'licences:add'
type ChangeName = 'builds:change' | 'creators:change' | 'licences:change'

export interface FormState {
  readonly isNew: boolean
  readonly isSaved: boolean
  readonly isRunning: boolean
  readonly error: AppError | null
}

/** The fields of one record while they are edited, and how they are saved. */
export interface EditedRecord<V, A extends AddName> extends FormState {
  readonly values: V
  set(part: Partial<V>): void
  /** Adds or changes; goes to the new record's page once it was added. */
  save(more: Omit<ChangeRequest<A>, keyof V>, pageOf: (added: ChangeResponse<A>) => string): void
}

export function useRecordForm<V extends object, A extends AddName, C extends ChangeName>(
  addCall: A,
  changeCall: C,
  id: string | undefined,
  initial: V,
): EditedRecord<V, A> {
  const [values, setValues] = useState(initial)
  const [isSaved, setIsSaved] = useState(false)
  const add = useChange(addCall)
  const change = useChange(changeCall)
  const [, go] = useLocation()
  return {
    values,
    isNew: id === undefined,
    isSaved,
    isRunning: add.isRunning || change.isRunning,
    error: add.error ?? change.error,
    set(part) {
      setIsSaved(false)
      setValues((before) => ({ ...before, ...part }))
    },
    save(more, pageOf) {
      const whole = { ...values, ...more }
      setIsSaved(false)
      if (id === undefined) {
        void add.run(whole as unknown as ChangeRequest<A>).then((added) => added && go(pageOf(added)))
      } else {
        const request = { id, change: whole } as unknown as ChangeRequest<C>
        void change.run(request).then((changed) => setIsSaved(changed !== undefined))
      }
    },
  }
}
