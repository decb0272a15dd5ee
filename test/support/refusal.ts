import { InputError } from '../../src/errors.js';

/** The refusal that a step ends in. Accepting the input, or failing in any other way, fails the test. */
export async function refusalOf(step: () => unknown): Promise<InputError> {
  try {
    await step();
  } catch (error) {
    if (error instanceof InputError) return error;
    throw error;
  }
  throw new Error('the input was accepted');
}
