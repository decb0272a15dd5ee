# Build with the development dependencies, run without them.
FROM node:24-bookworm-slim AS build
WORKDIR /app
COPY package.json package-lock.json .npmrc ./
RUN npm ci
COPY tsconfig.json ./
COPY src ./src
RUN npm run build && npm prune --omit=dev

FROM node:24-bookworm-slim
ENV NODE_ENV=production
WORKDIR /app
COPY --from=build /app/package.json ./
COPY --from=build /app/node_modules ./node_modules
COPY --from=build /app/dist ./dist
COPY openapi.yaml LICENSE README.md ./
# By its name from any folder, for builds that mount their own.
RUN ln -s /app/dist/cli/main.js /usr/local/bin/linebudget
USER node
EXPOSE 8080
# The service finishes the audits in flight when it is told to stop.
STOPSIGNAL SIGTERM
HEALTHCHECK --interval=10s --timeout=3s --start-period=5s \
  CMD ["node", "-e", "fetch('http://127.0.0.1:8080/readyz').then(({ ok }) => process.exit(ok ? 0 : 1), () => process.exit(1))"]
# As it is it does not start: tokens (--config) or --open are for whoever runs it to say.
ENTRYPOINT ["linebudget"]
CMD ["serve", "--host", "0.0.0.0", "--port", "8080"]
