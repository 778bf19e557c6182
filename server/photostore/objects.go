package photostore

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"net/url"
	"strings"

	"github.com/minio/minio-go/v7"
	"github.com/minio/minio-go/v7/pkg/credentials"

	"tenter/models"
)

// Objects keeps photos in an object store that speaks the S3 protocol.
type Objects struct {
	client *minio.Client
	bucket string
	prefix string // with a slash at its end, or ""
}

var _ models.PhotoFiles = (*Objects)(nil)

// Access is how an object store is reached.
type Access struct {
	Endpoint string // http:// or https:// and a host
	Region   string
	Key      string
	Secret   string
}

// NewObjects keeps photos at s3://bucket/prefix. The bucket has to be there.
func NewObjects(at string, access Access) (*Objects, error) {
	place, err := url.Parse(at)
	if err != nil || place.Scheme != "s3" || place.Host == "" {
		return nil, fmt.Errorf("%q is no place in an object store; write it like s3://bucket/prefix", at)
	}
	endpoint, err := url.Parse(access.Endpoint)
	if err != nil || endpoint.Host == "" || endpoint.Scheme != "http" && endpoint.Scheme != "https" || strings.Trim(endpoint.Path, "/") != "" {
		return nil, fmt.Errorf("%q is no address of an object store; write it like https://objects.example", access.Endpoint)
	}
	client, err := minio.New(endpoint.Host, &minio.Options{
		Creds: credentials.NewStaticV4(access.Key, access.Secret, ""), Secure: endpoint.Scheme == "https", Region: access.Region,
	})
	if err != nil {
		return nil, fmt.Errorf("object store: %w", err)
	}
	prefix := strings.Trim(place.Path, "/")
	if prefix != "" {
		prefix += "/"
	}
	return &Objects{client, place.Host, prefix}, nil
}

// Put writes an object; it is there whole or not at all.
func (o *Objects) Put(ctx context.Context, key string, content []byte) error {
	if !fileKey.MatchString(key) {
		return fmt.Errorf("%q is no key of a photo", key)
	}
	_, err := o.client.PutObject(ctx, o.bucket, o.prefix+key, bytes.NewReader(content), int64(len(content)), minio.PutObjectOptions{ContentType: "image/jpeg"})
	if err != nil {
		return fmt.Errorf("keep a photo: %w", err)
	}
	return nil
}

// Open reads an object.
func (o *Objects) Open(ctx context.Context, key string) (io.ReadCloser, error) {
	object, err := o.client.GetObject(ctx, o.bucket, o.prefix+key, minio.GetObjectOptions{})
	if err != nil {
		return nil, fmt.Errorf("read a photo: %w", absent(err))
	}
	if _, err := object.Stat(); err != nil { // the request goes out only now
		return nil, errors.Join(fmt.Errorf("read a photo: %w", absent(err)), object.Close())
	}
	return object, nil
}

// absent turns the protocol's word for what is not there into Go's.
func absent(err error) error {
	if minio.ToErrorResponse(err).Code == minio.NoSuchKey {
		return fmt.Errorf("%w: %w", fs.ErrNotExist, err)
	}
	return err
}

// Remove removes an object.
func (o *Objects) Remove(ctx context.Context, key string) error {
	if !ours(key) {
		return fmt.Errorf("%q is no key of a photo", key)
	}
	if err := o.client.RemoveObject(ctx, o.bucket, o.prefix+key, minio.RemoveObjectOptions{}); err != nil && !errors.Is(absent(err), fs.ErrNotExist) {
		return fmt.Errorf("remove a photo: %w", err)
	}
	return nil
}

// List goes through all photos below the prefix.
func (o *Objects) List(ctx context.Context, each func(models.StoredPhoto) error) error {
	ctx, stop := context.WithCancel(ctx)
	defer stop() // of the listing, when each gives up
	for object := range o.client.ListObjects(ctx, o.bucket, minio.ListObjectsOptions{Prefix: o.prefix, Recursive: true}) {
		if object.Err != nil {
			return fmt.Errorf("look through the photos: %w", object.Err)
		}
		key := strings.TrimPrefix(object.Key, o.prefix)
		if !ours(key) {
			continue
		}
		if err := each(models.StoredPhoto{Key: key, Bytes: object.Size, Written: object.LastModified}); err != nil {
			return err
		}
	}
	return nil
}
