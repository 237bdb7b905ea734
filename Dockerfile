# The SQLite driver is C, so the first stage has a compiler; the second holds one program and no shell scripts.
FROM golang:1.26-bookworm AS build
WORKDIR /src
COPY go.mod go.sum ./
RUN go mod download
COPY cmd cmd
COPY server server
COPY bot bot
COPY fitting fitting
COPY orders orders
COPY templates templates
RUN go build -trimpath -tags nomsgpack -ldflags='-s -w' -o /perchbook ./cmd/perchbook

FROM debian:bookworm-slim
RUN apt-get update && apt-get install -y --no-install-recommends ca-certificates && rm -rf /var/lib/apt/lists/* \
 && useradd --system --uid 10017 --home-dir /data perchbook && install -d -o perchbook -m 0700 /data
COPY --from=build /perchbook /usr/local/bin/perchbook
USER perchbook
VOLUME /data
EXPOSE 8017
HEALTHCHECK --interval=30s --timeout=6s --start-period=10s CMD ["perchbook", "healthy"]
ENTRYPOINT ["perchbook"]
CMD ["serve", "--data", "/data", "--listen", ":8017"]
