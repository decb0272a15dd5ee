const ANEW = 'Export the archive anew, and send it as it was exported.';
const DAMAGED = 'The file is damaged: copy or download it again, or export it anew.';
const LESS = 'Export less at once, or have whoever runs the service raise the limit that is named.';

/** What can be wrong with a request or with what it sends, by its code: what it means, and what to do about it. */
export const problems = {
  'not-a-zip': {
    title: 'The upload is not a ZIP archive',
    remedy: 'Choose the file that the commissioning software exported, as it is: not unpacked, and no other file.',
  },
  'limit-exceeded': {
    title: 'The input is over a limit of this service',
    remedy:
      'Send less at once, or look whether the right files are chosen; whoever runs the service can raise the limit that is named.',
  },
  'archive-cut-off': {
    title: 'The ZIP archive is cut off',
    remedy: 'Copy or download the archive again, or export it anew: its end is missing.',
  },
  'archive-split': {
    title: 'The ZIP archive is one of several volumes',
    remedy: 'Export the project into one file.',
  },
  'archive-gap': {
    title: 'The ZIP archive holds bytes that belong to nothing',
    remedy: ANEW,
  },
  'ambiguous-directory': {
    title: 'The ZIP archive can be taken to have two directories',
    remedy: ANEW,
  },
  'directory-misplaced': {
    title: 'The directory of the ZIP archive is not where it should be',
    remedy: ANEW,
  },
  'directory-contradictory': {
    title: 'The directory of the ZIP archive contradicts itself',
    remedy: ANEW,
  },
  'entry-misplaced': {
    title: 'An entry of the ZIP archive is not where it should be',
    remedy: ANEW,
  },
  'entry-contradictory': {
    title: 'An entry of the ZIP archive contradicts itself',
    remedy: ANEW,
  },
  'entries-overlap': {
    title: 'Two entries of the ZIP archive share bytes',
    remedy: 'Do not use this archive: no export makes such a one. Export it anew from a source that you trust.',
  },
  'unsafe-name': {
    title: 'An entry of the ZIP archive has a name that is not allowed',
    remedy: 'Export the archive anew; if it was packed by hand, pack it without the entry that is named.',
  },
  'ambiguous-part': {
    title: 'Two parts of the archive claim the same name',
    remedy: 'Export the archive anew; if it was packed by hand, keep one of the two.',
  },
  'unsupported-packing': {
    title: 'A part of the archive is packed by a method that is not read',
    remedy:
      'Export the archive anew, without a password; if it was packed by hand, pack it by the usual method (deflate).',
  },
  'inflate-failed': {
    title: 'A part of the archive cannot be inflated',
    remedy: DAMAGED,
  },
  'size-mismatch': {
    title: 'A part of the archive has another size than it declares',
    remedy: DAMAGED,
  },
  'checksum-mismatch': {
    title: 'A part of the archive does not match its checksum',
    remedy: DAMAGED,
  },
  'protected-project': {
    title: 'The project is protected by a password',
    remedy: 'Take the password off the project in the commissioning software, and export it again.',
  },
  'no-project': {
    title: 'The archive holds no project',
    remedy: 'Export the project itself; an archive of products alone cannot be audited.',
  },
  'malformed-xml': {
    title: 'An XML document of the archive is malformed',
    remedy: 'Export the archive anew; if a document was changed by hand, mend it at the place that is named.',
  },
  'unreadable-encoding': {
    title: 'The text encoding of a document cannot be read',
    remedy: 'Export the archive anew; a document that was changed by hand has to be saved as UTF-8.',
  },
  'wrong-namespace': {
    title: 'A document is not in the interchange namespace',
    remedy: 'Choose the archive of a project, exported in the XML interchange form of the standard.',
  },
  'invalid-value': {
    title: 'A document holds a value that the interchange form does not allow',
    remedy: 'Correct the value in the commissioning software, or in the document that is named, and export again.',
  },
  'invalid-policy': {
    title: 'The policy cannot be used',
    remedy: 'Correct the policy at the place that is named, or leave it out.',
  },
  'invalid-product-list': {
    title: 'The list of products cannot be used',
    remedy: 'Correct the list at the place that is named, or leave it out.',
  },
  'invalid-waivers': {
    title: 'The list of waivers cannot be used',
    remedy: 'Correct the list at the place that is named, or leave it out.',
  },
  'invalid-baseline': {
    title: 'The report to compare with cannot be used',
    remedy: 'Send the JSON report of an earlier audit, as it was saved, made by this version; or leave it out.',
  },
  'invalid-site-sheet': {
    title: 'The site sheet cannot be used',
    remedy: 'Correct the site sheet at the place that is named, or leave it out.',
  },
  'invalid-measured-values': {
    title: 'The list of measured values cannot be used',
    remedy: 'Correct the list at the place that is named, or leave it out.',
  },
  'invalid-plan': {
    title: 'The plan cannot be used',
    remedy: 'Correct the plan at the place that is named.',
  },
  'invalid-changes': {
    title: 'The changes cannot be made',
    remedy: 'Correct the changes at the place that is named.',
  },
  'no-segments': {
    title: 'The project holds no line segment',
    remedy: 'Export the project with its topology: areas, lines and the devices on them.',
  },
  'malformed-request': {
    title: 'The request is malformed',
    remedy: 'Change what is named, and send it again.',
  },
  'token-missing': {
    title: 'The request carries no token',
    remedy: 'Send a token; whoever runs the service gives it out.',
  },
  'token-not-valid': {
    title: 'The token is not valid',
    remedy: 'Look for a typing mistake, or ask whoever runs the service for a new token.',
  },
  'role-missing': {
    title: 'The token does not open this',
    remedy: 'Ask whoever runs the service for a token with the role that is named.',
  },
  'not-found': {
    title: 'There is nothing at this address',
    remedy: 'Look at the address; the first page of the service is at /.',
  },
  'rule-not-known': {
    title: 'There is no such rule',
    remedy: 'Take one of the rules that /v1/rules lists.',
  },
  'schema-not-known': {
    title: 'There is no such schema',
    remedy: 'Take one of the schemas that are named.',
  },
  'method-not-allowed': {
    title: 'There is no such method at this address',
    remedy: 'Take one of the methods that are named.',
  },
  'not-acceptable': {
    title: 'The report does not come in the form that is asked for',
    remedy: 'Ask for one of the media types that are named.',
  },
  'request-timeout': {
    title: 'The request did not arrive in time',
    remedy: 'Send it again, over a faster connection if need be.',
  },
  'audit-too-long': {
    title: 'The audit takes longer than this service allows',
    remedy: LESS,
  },
  'audit-too-large': {
    title: 'The audit takes more memory than this service allows',
    remedy: LESS,
  },
  'unsupported-media-type': {
    title: 'The body is of a kind that is not read here',
    remedy: 'Send it as one of the media types that are named.',
  },
  'expectation-failed': {
    title: 'The request expects what this service does not do',
    remedy: 'Send it without the header Expect.',
  },
  'too-many-requests': {
    title: 'The client asks too often',
    remedy: 'Wait as long as is named, then send it again.',
  },
  'headers-too-large': {
    title: 'The headers of the request are too large',
    remedy: 'Send fewer or shorter headers.',
  },
  busy: {
    title: 'Too many audits are waiting',
    remedy: 'Send it again in a few seconds.',
  },
  starting: {
    title: 'The service is starting',
    remedy: 'Send it again in a few seconds.',
  },
  stopping: {
    title: 'The service is stopping',
    remedy: 'Send it again in a minute, when the service has started again.',
  },
  'internal-fault': {
    title: 'The service failed by a fault of its own',
    remedy: 'Send it again; if that does not help, tell whoever runs the service the request-id.',
  },
};
