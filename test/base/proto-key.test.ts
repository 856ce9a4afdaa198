import { expect, it } from 'vitest';
import { wayToProtoKey } from '../../src/base/proto-key.ts';

it('finds a key that is no name, however deep, and nothing in what is sound', () => {
  const read = (json: string): readonly string[] | null => wayToProtoKey(JSON.parse(json));
  expect(read('{ "rolls": { "__proto__": { "width": 9 } } }')).toEqual(['rolls', '__proto__']);
  expect(read('[1, { "a": [null, { "__proto__": 1 }] }]')).toEqual(['1', 'a', '1', '__proto__']);
  expect(read('{ "a": "__proto__", "b": [null, 1] }')).toBeNull();
});
