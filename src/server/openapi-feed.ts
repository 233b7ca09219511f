/** `GET /api/rooms/:id/feed` for the OpenAPI document: a stream, which no route of the contract is. */

export const FEED_PATH = '/api/rooms/{id}/feed'

const ref = (name: string) => ({ $ref: `#/components/schemas/${name}` })

/** One event as it is read off the stream: its data is the JSON of one of these. */
const eventOf = (event: string, of: string, description: string) => ({
  type: 'object',
  description,
  required: ['id', 'event', 'data'],
  properties: {
    id: { type: 'string', pattern: '^[0-9]+$', description: 'The seq of the data.' },
    event: { const: event },
    data: { type: 'string', contentMediaType: 'application/json', contentSchema: ref(of) },
  },
})

/** What the feed adds to the schemas of the document. */
export const feedSchemas = {
  RoomFeedEvent: {
    oneOf: [
      eventOf('state', 'RoomState', 'The whole room, first thing after connecting.'),
      eventOf(
        'change',
        'RoomChange',
        'Parts that changed, each whole; one that is no newer than the state is passed over.',
      ),
    ],
  },
} as const

const EXAMPLE = [
  'retry: 1000',
  '',
  'id: 41',
  'event: state',
  'data: {"seq":41, …}',
  '',
  'id: 42',
  'event: change',
  'data: {"seq":42, …}',
  '',
  '',
].join('\n')

export const feedPath = {
  get: {
    operationId: 'get-rooms-by-id-feed',
    description:
      'Least role: seat. Keeps a room up to date by server-sent events, for as long as the connection is open. Each viewer gets what it may see. Lines that begin with a colon keep the connection open and say nothing.',
    parameters: [
      { name: 'id', in: 'path', required: true, schema: { type: 'string' } },
      {
        name: 'as',
        in: 'query',
        description:
          'Who a browser that is several of these means to be. Unasked, a coach leads and everybody else is their seat.',
        schema: { enum: ['lead', 'table', 'screen'] },
      },
      {
        name: 'Last-Event-ID',
        in: 'header',
        description:
          'The id of the last event that was taken in. Where nothing has changed since, no state is sent; else the whole state comes first.',
        schema: { type: 'string', pattern: '^[0-9]{1,15}$' },
      },
      {
        name: 'after',
        in: 'query',
        description: 'The same, for the first connection, which cannot send the header.',
        schema: { type: 'string', pattern: '^[0-9]{1,15}$' },
      },
    ],
    responses: {
      200: {
        description: 'Events, each a RoomFeedEvent.',
        content: {
          'text/event-stream': {
            schema: { type: 'string', description: 'Each event is a RoomFeedEvent.' },
            example: EXAMPLE,
          },
        },
      },
      default: {
        description: 'Refused, with the reason, before the stream begins.',
        content: { 'application/json': { schema: ref('ErrorReply') } },
      },
    },
  },
} as const
