import type { z } from 'zod';

/** What is wrong with a value that does not fit its schema, in words that follow the value's name. */
export function wrongness(issue: z.core.$ZodIssue): string {
  switch (issue.code) {
    case 'too_big':
      return issue.origin === 'number' || issue.origin === 'int'
        ? `is too large: ${issue.inclusive === false ? 'less than' : 'at most'} ${issue.maximum} is allowed`
        : otherwise(issue);
    case 'too_small':
      return issue.origin === 'number' || issue.origin === 'int'
        ? `is too small: ${issue.inclusive === false ? 'more than' : 'at least'} ${issue.minimum} is allowed`
        : otherwise(issue);
    case 'invalid_type':
      if (issue.expected === 'int') return 'is no whole number';
      return issue.expected === 'number' ? 'is no number' : otherwise(issue);
    case 'invalid_value':
      return `is none of: ${issue.values.map(String).join(', ')}`;
    default:
      return otherwise(issue);
  }
}

function otherwise({ message }: z.core.$ZodIssue): string {
  return `does not fit: ${message}`;
}
