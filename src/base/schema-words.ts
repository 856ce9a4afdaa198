import type { z } from 'zod';

/** What is wrong with a value that does not fit its schema, in words that follow the value's name. */
export function wrongness(issue: z.core.$ZodIssue): string {
  switch (issue.code) {
    case 'too_big':
      return tooBig(issue);
    case 'too_small':
      return tooSmall(issue);
    case 'invalid_type':
      return types[issue.expected] ?? otherwise(issue);
    case 'invalid_value':
      // A schema with words of its own says more than its values.
      return issue.message.startsWith('Invalid')
        ? `is none of: ${issue.values.map(String).join(', ')}`
        : otherwise(issue);
    case 'invalid_key':
      return `is no name that can stand here: ${issue.issues[0]?.message ?? issue.message}`;
    case 'invalid_union':
      return 'is of no kind that can stand here';
    default:
      return otherwise(issue);
  }
}

function tooBig(issue: z.core.$ZodIssueTooBig): string {
  const { origin, maximum, inclusive } = issue;
  if (origin === 'number' || origin === 'int') {
    return `is too large: ${inclusive === false ? 'less than' : 'at most'} ${maximum} is allowed`;
  }
  return origin === 'array' ? `is too long: at most ${maximum} may stand here` : otherwise(issue);
}

function tooSmall(issue: z.core.$ZodIssueTooSmall): string {
  const { origin, minimum, inclusive } = issue;
  if (origin === 'number' || origin === 'int') {
    return `is too small: ${inclusive === false ? 'more than' : 'at least'} ${minimum} is allowed`;
  }
  if (origin === 'string' && minimum === 1) return 'is empty';
  return origin === 'array'
    ? `is too short: at least ${minimum} must stand here`
    : otherwise(issue);
}

/** What a value is not, by the type that its schema expects. */
const types: Readonly<Record<string, string>> = {
  int: 'is no whole number',
  number: 'is no number',
  string: 'is no text: put it in quotes',
  boolean: 'is neither true nor false',
  array: 'is no list',
  tuple: 'is no list',
  object: 'has no keys with values',
  record: 'has no keys with values',
};

function otherwise({ message }: z.core.$ZodIssue): string {
  return `does not fit: ${message}`;
}
