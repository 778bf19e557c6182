# Builds the one static binary and puts it into an image with nothing else.
#
#   docker build -t tenter .
#   docker run -p 8080:8080 -v tenter:/data tenter
#   docker exec CONTAINER /tenter person add HANDLE --role designer
FROM golang:1.26.8 AS build
ARG RELEASE=
WORKDIR /src
COPY go.mod go.sum ./
RUN go mod download
COPY cmd ./cmd
COPY frontend ./frontend
COPY handlers ./handlers
COPY migrations ./migrations
COPY models ./models
COPY server ./server
RUN CGO_ENABLED=0 go build -trimpath -buildvcs=false -ldflags "-s -w -X main.release=$RELEASE" -o /out/tenter ./cmd/tenter
RUN mkdir -m 700 /out/data && mkdir -m 1777 /out/tmp

FROM scratch
COPY --from=build /out/tenter /tenter
# Whose certificates are believed: of mail servers, object stores, webhooks.
COPY --from=build /etc/ssl/certs/ca-certificates.crt /etc/ssl/certs/ca-certificates.crt
# A named volume takes over this folder's owner when it is first used.
COPY --from=build --chown=65532:65532 /out/data /data
COPY --from=build /out/tmp /tmp
USER 65532:65532
WORKDIR /data
ENV TENTER_ADDR=:8080
ENV TENTER_DATABASE=/data/tenter.db
ENV TENTER_LOG_FORMAT=json
VOLUME /data
EXPOSE 8080
HEALTHCHECK --interval=30s --timeout=5s --start-period=20s CMD ["/tenter", "health"]
STOPSIGNAL SIGTERM
ENTRYPOINT ["/tenter"]
CMD ["serve"]
