import { z } from 'zod'
import { bodies } from '../api/bodies.ts'
import type { RouteName } from '../api/contract.ts'
import { finding } from '../api/findings.ts'
import * as records from '../api/records.ts'
import { errorReply, replies } from '../api/replies.ts'
import { roomChange, roomState } from '../api/workshop-replies.ts'
import { ROUTE_ROLES } from './app.ts'
import { FEED_PATH, feedPath, feedSchemas } from './openapi-feed.ts'
import { VERSION } from './version.ts'

/** Records that get a name of their own in the document. */
const NAMED = {
  Unit: records.unit,
  Person: records.person,
  Project: records.project,
  Measure: records.measure,
  Phase: records.phase,
  Observation: records.observation,
  Annotation: records.annotation,
  Cycle: records.cycle,
  Prediction: records.prediction,
  Addendum: records.addendum,
  Trial: records.trial,
  Decision: records.decision,
  Finding: finding,
  RampNote: records.rampNote,
  Experiment: records.experiment,
  ExperimentFactor: records.experimentFactor,
  ExperimentRun: records.experimentRun,
  RoomState: roomState,
  RoomChange: roomChange,
  ErrorReply: errorReply,
} as const

/** Every route as OpenAPI 3.1, whose schemas are JSON Schema 2020-12. */
export function openApiDocument(): object {
  const registry = z.registry<{ id: string }>()
  for (const [id, schema] of Object.entries(NAMED)) registry.add(schema, { id })
  const settings = {
    uri: (id: string) => `#/components/schemas/${id}`,
    unrepresentable: 'any',
  } as const
  const inline = (schema: z.ZodType, io: 'input' | 'output') =>
    withRefs(z.toJSONSchema(schema, { metadata: registry, io, unrepresentable: 'any' }))

  const paths: Record<string, Record<string, object>> = {}
  for (const name of Object.keys(ROUTE_ROLES) as RouteName[]) {
    const [method, url] = name.split(' ') as [string, string]
    const path = url.replace(/:(\w+)/g, '{$1}')
    const body = name in bodies ? bodies[name as keyof typeof bodies] : undefined
    paths[path] ??= {}
    paths[path][method.toLowerCase()] = {
      operationId: operationId(method, url),
      description: `Least role: ${ROUTE_ROLES[name]}.`,
      parameters: parameters(method, url),
      ...(body === undefined
        ? {}
        : { requestBody: { required: true, content: json(inline(body, 'input')) } }),
      responses: {
        200: { description: 'Done.', content: json(inline(replies[name], 'output')) },
        default: { description: 'Refused, with the reason.', content: json(ref('ErrorReply')) },
      },
    }
  }
  return {
    openapi: '3.1.0',
    info: {
      title: 'Pawl',
      version: VERSION,
      description:
        'The record of tests of change. Every write carries the token that GET /api/session gave in the header x-pawl-csrf. Error codes are explained in docs/errors.md.',
    },
    paths: { ...paths, [FEED_PATH]: feedPath },
    components: {
      schemas: {
        ...z.toJSONSchema(registry, { ...settings, io: 'output' }).schemas,
        ...feedSchemas,
      },
    },
  }
}

const json = (schema: unknown) => ({ 'application/json': { schema } })
const ref = (name: keyof typeof NAMED) => ({ $ref: `#/components/schemas/${name}` })

function operationId(method: string, url: string): string {
  const words = url.replace('/api/', '').split('/')
  return [method.toLowerCase(), ...words.map((w) => w.replace(':', 'by-'))].join('-')
}

function parameters(method: string, url: string): object[] {
  const path = [...url.matchAll(/:(\w+)/g)].map(([, name]) => ({
    name,
    in: 'path',
    required: true,
    schema: { type: 'string' },
  }))
  if (method === 'GET') return path
  const header = (name: string, required: boolean, description: string) => ({
    name,
    in: 'header',
    required,
    description,
    schema: { type: 'string' },
  })
  return [
    ...path,
    header('x-pawl-csrf', true, 'The token that GET /api/session gave.'),
    header(
      'x-pawl-text-checked',
      false,
      'yes: somebody has looked at what seemed to identify a patient.',
    ),
  ]
}

/** Points references into `$defs` at the shared schemas instead, and drops the copies. */
function withRefs(schema: object): unknown {
  const text = JSON.stringify(schema, (key, value: unknown) =>
    key === '$defs' || key === '$schema' ? undefined : value,
  )
  return JSON.parse(text.replaceAll('"#/$defs/', '"#/components/schemas/'))
}
