# One image, two commands: the service (default) and `heatgate` for CI. Not built in CI: the build machine has no container engine.
FROM node:20-bookworm-slim AS build
WORKDIR /app
COPY package.json package-lock.json .npmrc ./
RUN npm ci
COPY tsconfig.json tsconfig.build.json ./
COPY api api
COPY worker worker
COPY core core
RUN npm run build && npm prune --omit=dev

FROM node:20-bookworm-slim
ENV NODE_ENV=production HOST=0.0.0.0 PORT=8080 HEATGATE_DATA=/data
WORKDIR /app
COPY --from=build --chown=node:node /app/package.json ./
COPY --from=build --chown=node:node /app/node_modules node_modules
COPY --from=build --chown=node:node /app/dist dist
COPY --from=build --chown=node:node /app/core/grades/data core/grades/data
RUN mkdir /data && chown node:node /data && ln -s /app/dist/worker/cli/main.js /usr/local/bin/heatgate && chmod +x /app/dist/worker/cli/main.js
USER node
VOLUME /data
EXPOSE 8080
HEALTHCHECK --interval=30s --timeout=5s --start-period=20s \
  CMD ["node", "-e", "fetch('http://127.0.0.1:' + process.env.PORT + '/livez').then((answer) => process.exit(answer.ok ? 0 : 1), () => process.exit(1))"]
CMD ["node", "dist/api/main.js"]
