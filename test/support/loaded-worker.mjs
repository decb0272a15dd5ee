/** An audit that tells how its thread loaded this file: `require` gives what is exported as `module.exports`. */
const imported = () => ({ body: Buffer.from('import'), ruleFailures: [] });
const required = () => ({ body: Buffer.from('require'), ruleFailures: [] });

export { imported as default, required as 'module.exports' };
