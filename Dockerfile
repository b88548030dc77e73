# Build with Go and a C compiler (for SQLite), run as an ordinary user.
FROM golang:1.26-bookworm AS build
WORKDIR /src
COPY go.mod go.sum ./
RUN go mod download
COPY . .
RUN CGO_ENABLED=1 go build -trimpath -ldflags='-s -w' -o /out/rooftally ./cmd/rooftally \
 && mkdir /out/data

FROM debian:bookworm-slim
RUN useradd --system --uid 10001 --home-dir /data --shell /usr/sbin/nologin rooftally
COPY --from=build /out/rooftally /usr/local/bin/rooftally
COPY --from=build --chown=rooftally:rooftally /out/data /data
USER rooftally
VOLUME /data
EXPOSE 8787
ENTRYPOINT ["rooftally"]
CMD ["serve", "-db", "/data/rooftally.db", "-listen", "0.0.0.0:8787"]
